import { describe, expect, test } from 'vitest';
import type { Board } from '../../source/site/board.ts';
import type { Change } from '../../source/site/correct-survey.ts';
import { type Disturbance, planOfShed } from './quiet-site.ts';

const set = (path: string, value: unknown): Change => ({ path, value }) as Change;

/** The shed on a board that supervises, its zone of doors out of the way; `crew` has resistors of the same values. */
function supervised(
  style: 'series' | 'two-resistor',
  { end = 1000, alarm = 1000, window = 0.2, changes = [] as Change[] } = {},
): Disturbance {
  const loop = {
    style,
    resistor: `${end} ohm`,
    ...(style === 'two-resistor' ? { alarmResistor: `${alarm} ohm` } : {}),
    resistorAt: { detector: 'crew', by: 'part' },
  };
  return {
    changes: [
      set('zones.z1', null),
      set('detectors.bay', null),
      set('detectors.hatch', null),
      set('cables.c1', null),
      set('cables.c2', null),
      set('zones.z2.loop', loop),
      ...changes,
    ],
    board: (quiet: Board) => ({
      ...quiet,
      supervision: { style, resistorOhms: end, alarmResistorOhms: style === 'series' ? null : alarm, window },
    }),
  };
}

const saying = (disturbance: Disturbance, code: string) =>
  planOfShed(disturbance).findings.filter((finding) => finding.code === code);

describe('a supervised input is checked in every state of its loop', () => {
  test('end and alarm resistor of the maker, out at the contact: nothing is found', () => {
    for (const style of ['series', 'two-resistor'] as const) {
      expect(saying(supervised(style), 'input-ambiguous'), style).toEqual([]);
      expect(saying(supervised(style), 'resistor-at-panel'), style).toEqual([]);
    }
  });

  test('1 k at rest and 100 Ω more in alarm: the windows overlap, and that is said of the board', () => {
    // By hand: 1 k ± 10 % ends at 1.1 k, and 1.1 k ± 10 % begins at 990 Ω.
    const [board, ...rest] = saying(
      supervised('two-resistor', { alarm: 100, window: 0.1 }),
      'input-ambiguous',
    );
    const all = [board!, ...rest];
    const overlap = all.find(({ figures }) => 'alarmMinOhms' in figures)!;
    expect(overlap.about).toEqual(['b1', 'b1/1']);
    expect(overlap.figures).toMatchObject({
      normalMaxOhms: expect.closeTo(1100, 6),
      alarmMinOhms: expect.closeTo(990, 6),
    });
  });

  test('a long cable behind a narrow window is found, with what the loop may read and what the input takes', () => {
    // By hand: 1 k + 5 %, a relay's 50 Ω and no cable at all make 1.1 k; the window of 6 % ends at 1.06 k.
    const [found] = saying(
      supervised('two-resistor', { alarm: 470, window: 0.06, changes: [set('cables.c3.length', '500 m')] }),
      'input-ambiguous',
    );
    expect(found!.message).toMatch(/reads .+, and input 1 of b1 is sure only from 940 Ω to 1\.06 kΩ/);
    expect(Number(found!.figures.maxOhms)).toBeGreaterThan(1100);
  });

  test('at rest in its window and worked outside it: a contact that closes at the end of a long cable', () => {
    // By hand: at rest 1 k + 5 % and 70 Ω of cable stay below 1.2 k; worked, 500 Ω + 5 % and the cable pass 600 Ω with 10 Ω of contact.
    const [found] = saying(
      supervised('two-resistor', {
        changes: [set('cables.c3.length', '620 m'), set('detectors.crew.contact', 'normally-open')],
      }),
      'input-ambiguous',
    );
    expect(found!.message).toMatch(/with crew worked, and input 1 of b1 is sure only from 400 to 600 Ω/);
  });

  test('a new resistor at the screws of the board watches nothing: a shorted pair reads as at rest', () => {
    const plan = planOfShed({
      board: (quiet) => ({
        ...quiet,
        supervision: { style: 'series', resistorOhms: 1000, alarmResistorOhms: null, window: 0.2 },
      }),
    });
    const found = plan.findings.filter(({ code }) => code === 'resistor-at-panel');
    const atPanel = plan.circuits.filter(({ resistor }) => resistor.at === 'panel');
    expect(found.map(({ about }) => about)).toEqual([
      ['b1', ...atPanel.map(({ board, input }) => `${board}/${input}`)],
    ]);
    // Source: protectiveresources.com, "resistors at the panel supervise nothing".
    expect(found[0]!.message).toMatch(/a shorted pair reads as at rest.*supervises nothing/);
  });
});
