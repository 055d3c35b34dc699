import { describe, expect, test } from 'vitest';
import { evaluateLoop } from '../../source/electrical/loop.ts';
import type { Act } from '../../source/wiring/act.ts';
import { actOn, fold, foldActs } from '../../source/wiring/act-on.ts';
import { readBetween } from '../../source/wiring/read-between.ts';
import type { WiredConductor, Wiring } from '../../source/wiring/wiring.ts';

const OHM = { min: 1, nominal: 1, max: 1 };
const wire = (id: string, near: string, far: string, screw: string | null = null): WiredConductor => ({
  id,
  cable: id.split('/')[0]!,
  number: Number(id.split('/')[1]),
  colour: 'white',
  use: 'loop',
  for: null,
  zone: 'z1',
  near,
  far,
  screw,
  atPanel: true,
  ohms: OHM,
});
const closed = { min: 0, nominal: 0, max: 0 };
const contact = (detector: string) =>
  ({
    detector,
    zone: 'z1',
    purpose: 'alarm',
    sense: 'normally-closed',
    a: `post:${detector}.a`,
    b: `post:${detector}.b`,
    closed,
    unpowered: null,
  }) as const;

/** Two doors in a row between screws 5 and 6, spliced at the panel, with a part of 1 kΩ in the first door. */
const WIRING: Wiring = {
  conductors: [
    wire('c1/1', 'old:5', 'post:a.r', '5'),
    wire('c1/2', 'join:z1.1', 'post:a.b'),
    wire('c2/1', 'join:z1.1', 'post:b.a'),
    wire('c2/2', 'old:6', 'post:b.b', '6'),
  ],
  resistors: [
    {
      id: 'z1.end-of-line',
      zone: 'z1',
      ohms: 1000,
      role: 'end-of-line',
      a: 'post:a.r',
      b: 'post:a.a',
      place: { detector: 'a' },
      by: 'part',
    },
  ],
  contacts: [contact('a'), contact('b')],
  loads: [],
  links: [],
  isolated: [],
  mounted: [],
  removed: [],
  loops: { z1: ['old:5', 'old:6'] },
};

const ohms = (wiring: Wiring, a: string, b: string) => evaluateLoop(readBetween(wiring, a, b), {}).nominal;
const lift: Act = { do: 'lift', conductor: 'c1/1', at: '5' };
const out: Act = { do: 'remove-resistor', resistor: 'z1.end-of-line', zone: 'z1' };
const through: Act = { do: 'splice', into: 'post:a.a', from: 'post:a.r' };
const part: Act = { do: 'part', join: 'join:z1.1', conductors: ['c1/2', 'c2/1'] };

describe('an act on the wiring', () => {
  test('a new resistor beside an old one that was left in leaves both', () => {
    const fit: Act = {
      do: 'fit-resistor',
      zone: 'z1',
      ohms: 3000,
      between: ['post:a.r', 'post:a.a'],
      detector: 'a',
    };
    // By hand: 1 kΩ beside 3 kΩ is 750 Ω; four wires of 1 Ω in the row.
    const both = fold(WIRING, [
      { act: out, went: 'not-done' },
      { act: fit, went: 'done' },
    ]).wiring;
    expect(ohms(both, 'old:5', 'old:6')).toBeCloseTo(754, 6);
    expect(ohms(foldActs(both, [fit]), 'old:5', 'old:6')).toBeCloseTo(754, 6);
    expect(ohms(foldActs(WIRING, [out, fit]), 'old:5', 'old:6')).toBeCloseTo(3004, 6);
  });

  test('leads from what a meter reads before to what it reads after', () => {
    expect(ohms(WIRING, 'old:5', 'old:6')).toBe(1004);
    const lifted = foldActs(WIRING, [lift]);
    expect(ohms(lifted, 'old:5', 'old:6')).toBe(Number.POSITIVE_INFINITY);
    expect(ohms(lifted, 'c1/1', 'old:6')).toBe(1004);
    const bare = foldActs(lifted, [out]);
    expect(ohms(bare, 'c1/1', 'old:6')).toBe(Number.POSITIVE_INFINITY);
    expect(ohms(foldActs(bare, [through]), 'c1/1', 'old:6')).toBe(4);
    const parted = foldActs(bare, [through, part]);
    expect([ohms(parted, 'c1/1', 'c1/2'), ohms(parted, 'c2/1', 'old:6')]).toEqual([2, 2]);
  });

  test('done twice changes nothing, and fits', () => {
    const acts: Act[] = [lift, out, through, part, { do: 'mount', board: 'b1' }];
    const land: Act = { do: 'land', conductor: 'c1/1', at: 'b1:I1' };
    const once = fold(
      WIRING,
      [...acts, land].map((act) => ({ act, went: 'done' })),
    );
    const twice = fold(
      WIRING,
      [...acts, land].flatMap((act) => [
        { act, went: 'done' as const },
        { act, went: 'done' as const },
      ]),
    );
    expect(once.misfits).toEqual([]);
    expect(twice).toEqual(once);
  });

  test.each<[string, Act, RegExp]>([
    ['a wire that is not under that screw', { do: 'lift', conductor: 'c1/1', at: '6' }, /not under screw 6/],
    ['a wire that is under its screw', { do: 'land', conductor: 'c1/1', at: 'b1:I1' }, /still under screw 5/],
    [
      'a wire of another splice',
      { do: 'part', join: 'join:z1.1', conductors: ['c1/1'] },
      /not in the splice/,
    ],
    ['a wire that there is not', { do: 'insulate', conductor: 'c9/1' }, /no wire c9\/1/],
    ['a board that is in its box', { do: 'link', board: 'b1', terminals: ['C1', 'C2'] }, /not mounted/],
    ['a panel that wires are on', { do: 'remove', what: 'panel' }, /still under screw/],
  ])('%s is a misfit, and nothing moves', (_, act, says) => {
    const { wiring, misfit } = actOn(WIRING, act);
    expect(misfit?.says).toMatch(says);
    expect(wiring).toEqual(WIRING);
  });

  test('a board takes wires once it is mounted, and not before', () => {
    const land: Act = { do: 'land', conductor: 'c1/1', at: 'b1:I1' };
    expect(actOn(foldActs(WIRING, [lift]), land).misfit?.says).toMatch(/b1 is not mounted/);
    expect(actOn(foldActs(WIRING, [lift, { do: 'mount', board: 'b1' }]), land).misfit).toBeNull();
  });

  test('a jumper-set resistor is not taken out; its jumper is set', () => {
    const [resistor] = WIRING.resistors;
    const jumper = { ...WIRING, resistors: [{ ...resistor!, by: 'jumper' as const }] };
    expect(actOn(jumper, out).misfit?.says).toMatch(/jumper/);
    const set: Act = {
      do: 'set-jumper',
      resistor: 'z1.end-of-line',
      zone: 'z1',
      ohms: null,
      leaves: 'through',
    };
    const after = foldActs(jumper, [set, set]);
    expect(ohms(after, 'old:5', 'old:6')).toBe(4);
  });

  test('nobody can say: the wire is at a place of its own, the part is of unknown value', () => {
    const { wiring } = actOn(WIRING, lift, 'unknown');
    expect(wiring.conductors[0]?.near).toBe('unknown:c1/1');
    expect(ohms(wiring, 'old:5', 'old:6')).toBe(Number.POSITIVE_INFINITY);
    expect(actOn(WIRING, out, 'unknown').wiring.resistors[0]?.ohms).toBe('unknown');
    expect(actOn(WIRING, lift, 'not-done').wiring).toEqual(WIRING);
  });
});
