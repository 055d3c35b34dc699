import { describe, expect, test } from 'vitest';
import { drawBuilding } from '../../source/rehearsal/building/draw-building.ts';
import { act, type HandAct, handle } from '../../source/rehearsal/building/hands.ts';
import { readOhms } from '../../source/rehearsal/building/meter.ts';
import { demoScene } from './demo-scene.ts';

const { survey, wiring, boards } = demoScene();
const DEAD: HandAct[] = ['feed', 'battery:1', 'telephone'].map((source) => ({ do: 'isolate', source }));
const dead = DEAD.reduce(act, drawBuilding(survey, wiring, boards, 5));
const worked = (...acts: HandAct[]) => acts.reduce(act, dead);
const cannot = (building: typeof dead, one: HandAct) => handle(building, one).cannot;
const lift = (conductor: string, at: string): HandAct => ({ do: 'lift', conductor, at });
const land = (conductor: string, at: string): HandAct => ({ do: 'land', conductor, at });

// By the demo's survey: loop 2 is [screw 8] 2k2 [c3/1 ... c3/2] [screw 6], loop 4 has its 2k2 set by a jumper in the
// loft, and the pump pit's stands across its float switch as a part.
describe('hands do what is said and nothing else', () => {
  test('a resistor in the row comes off its screw with the wire that it is spliced to', () => {
    const lifted = worked(lift('c3/1', '8'));
    const resistor = lifted.resistors.get('z2.end-of-line')!;
    expect([resistor.a, resistor.b]).toContain('lifted:old:8');
    expect([resistor.a, resistor.b]).toContain(lifted.wires.get('c3/1')!.near);
    expect(cannot(lifted, { do: 'insulate', conductor: 'c3/1' })).toBe('z2.end-of-line still hangs on c3/1');
  });

  test('a resistor taken out of the row makes nothing through; a splice does', () => {
    const [a, b] = [dead.resistors.get('z4.end-of-line')!].flatMap((one) => [one.a, one.b]) as [
      string,
      string,
    ];
    const out = act(
      { ...dead, resistors: new Map([...dead.resistors].map(([id, one]) => [id, { ...one, by: 'part' }])) },
      {
        do: 'remove-resistor',
        resistor: 'z4.end-of-line',
        zone: 'z4',
      },
    );
    expect(readOhms(out, a, b)).toBe(Number.POSITIVE_INFINITY);
    const joined = handle(out, { do: 'splice', into: b, from: a });
    expect(joined.cannot).toBeNull();
    const wire = [...out.wires.values()].find(({ far }) => far === a)!;
    expect(readOhms(joined.building, joined.building.wires.get(wire.id)!.far, b)).toBeLessThan(1);
  });

  test('a resistor that a jumper sets is set, not taken out', () => {
    const resistor = 'z4.end-of-line';
    expect(cannot(dead, { do: 'remove-resistor', resistor, zone: 'z4' })).toMatch(/set by a jumper/);
    const set = (ohms: number | null) =>
      handle(dead, { do: 'set-jumper', resistor, zone: 'z4', ohms, leaves: 'through' });
    const { a, b } = dead.resistors.get(resistor)!;
    expect(set(null).cannot).toBeNull();
    expect(readOhms(set(null).building, a, b)).toBeLessThan(1);
    expect(readOhms(set(4700).building, a, b) / 4700).toBeCloseTo(1, 1);
    const part = {
      do: 'set-jumper',
      resistor: 'z6.end-of-line',
      zone: 'z6',
      ohms: null,
      leaves: 'open',
    } as const;
    expect(cannot(dead, part)).toMatch(/is a part/);
  });

  test.each<[string, HandAct[], HandAct, RegExp]>([
    ['a wire under another screw', [], lift('c1/1', '9'), /not under screw 9/],
    ['a wire that is still clamped', [], land('c8/1', 'b1:I1'), /b1 is not mounted/],
    [
      'one that is clamped and a board that stands',
      [{ do: 'mount', board: 'b1' }],
      land('c8/1', 'b1:I1'),
      /still under old:13/,
    ],
    ['a panel with wires under its screws', [], { do: 'remove', what: 'panel' }, /still under its screws/],
    ['an end under its screw, to insulate', [], { do: 'insulate', conductor: 'c8/1' }, /still under old:13/],
    [
      'a splice with other wires in it',
      [],
      { do: 'part', join: 'join:z5.1', conductors: ['c8/2'] },
      /c9\/1 is in join:z5.1 too/,
    ],
    [
      'a splice that is elsewhere',
      [],
      { do: 'part', join: 'join:z1.1', conductors: ['c8/2', 'c9/1'] },
      /not in join:z1.1/,
    ],
    [
      'a new part on a board that is not mounted',
      [],
      { do: 'fit-resistor', zone: 'z6', ohms: 2200, between: ['b1:I1', 'b1:C1'] },
      /b1 is not mounted/,
    ],
    ['a wire that nobody knows', [], lift('c99/1', '8'), /no wire/],
  ])('%s cannot be done', (_, before, one, says) => {
    expect(cannot(worked(...before), one)).toMatch(says);
  });

  test('a terminal of a board is there once it is mounted', () => {
    const ready = worked({ do: 'mount', board: 'b1' }, lift('c8/1', '13'));
    expect(cannot(ready, land('c8/1', 'b1:I1'))).toBeNull();
    expect(act(ready, land('c8/1', 'b1:I1')).wires.get('c8/1')!.near).toBe('b1:I1');
  });

  test('an act done twice is as good as done once', () => {
    for (const one of [lift('c3/1', '8'), lift('c8/1', '13'), { do: 'mount', board: 'b1' } as const]) {
      const once = act(dead, one);
      expect(handle(once, one)).toEqual({ building: once, cannot: null });
    }
  });
});
