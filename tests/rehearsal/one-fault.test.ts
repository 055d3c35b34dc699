import { describe, expect, test } from 'vitest';
import { CAUSES } from '../../source/electrical/causes.ts';
import { FAULTS } from '../../source/rehearsal/building/faults/list.ts';
import { report, scale } from '../scale.ts';
import { foresee, isBeforePower, rankOf, siteOf, type Trial, tryFaults } from './trial.ts';

const names = FAULTS.map(({ name }) => name);

describe('the list of faults', () => {
  test('has twenty at least, each by the name of a cause and said in a sentence', () => {
    expect(FAULTS.length).toBeGreaterThanOrEqual(20);
    expect(new Set(names).size).toBe(names.length);
    for (const { name, says } of FAULTS) {
      expect(Object.keys(CAUSES)).toContain(name);
      expect(says).toMatch(/^[A-Z].{20,}\.$/);
    }
  });
});

/** Why a fault that stands in a building may move no reading that is asked for out of its window. */
const WHY_QUIET: Readonly<Record<string, string>> = {
  'resistor-at-detector': 'in a row with a resistor of a doubt as wide, or behind a contact that is open',
  'resistor-value-differs': 'at the panel it goes unread into the bag',
  'resistor-missing': 'at the panel it goes unread into the bag, or is replaced all the same',
  'hidden-detector': 'it stands closed and adds less than an ohm or two',
  'damp-cable': 'beside a resistor far below it, or on a contact that is not worked while it is read',
  'corroded-splice': 'inside the doubt of a relay contact, or of a resistor in the loop',
  'length-differs': 'inside the doubt of a relay contact, or of a resistor in the loop',
  'conductor-differs': 'inside the doubt of a relay contact, or of a resistor in the loop',
  'joined-other-way': 'the pairs are landed on inputs of one and the same kind, and read alike',
  'induced-voltage': 'on a conductor that stays at a screw until it is landed, earthed through it',
  'ringing-voltage': 'the telephone pair is taken off with its line',
  'wrong-input': 'nothing is landed on one of the two inputs, or both serve contacts that read alike',
  'common-loose': 'nothing is landed on that common',
  'meter-leads': 'every window is wider than the leads',
};

type Row = {
  placed: number;
  shown: number;
  caught: number;
  firstRank: number;
  threeRanks: number;
  closed: number;
};
const share = (part: number, of: number) => (of === 0 ? 1 : part / of);

// Every site gets every fault in turn: 100 sites make 3,000 rehearsals.
const sites = scale(Math.ceil(3000 / names.length), 0.01);

describe('a building with one fault', () => {
  test(`gives it away wherever a reading shows it, in ${sites * names.length} rehearsals (seeds from 1)`, () => {
    const rows: Record<string, Row> = {};
    const broken: string[] = [];
    const total = { caught: 0, firstRank: 0, threeRanks: 0, quiet: 0, cards: 0, falseAlarms: 0 };
    for (let seed = 1; seed <= sites; seed++) {
      const site = siteOf(seed);
      const shown = foresee(
        site,
        seed,
        names.map((name) => [name]),
      );
      for (const [index, fault] of FAULTS.entries()) {
        const trial = tryFaults(site, seed, [fault.name], shown[index]!);
        if (trial === null || trial.rehearsal.faults.length === 0) continue;
        const row = rows[fault.name] ?? emptyRow();
        rows[fault.name] = row;
        count(row, trial, fault.name);
        total.cards += trial.cards;
        total.falseAlarms += trial.falseAlarms;
        broken.push(...whatIsWrong(trial, fault.harms).map((says) => `seed ${seed}, ${fault.name}: ${says}`));
      }
    }
    for (const row of Object.values(rows)) {
      total.caught += row.caught;
      total.firstRank += row.firstRank;
      total.threeRanks += row.threeRanks;
      total.quiet += row.placed - row.shown;
    }
    report(
      'One fault',
      Object.entries(rows).map(([fault, row]) => ({
        fault,
        ...row,
        quiet: row.placed - row.shown,
        why: row.placed > row.shown ? (WHY_QUIET[fault] ?? '?') : '',
      })),
    );
    report('One fault, all together', [total]);
    expect(broken).toEqual([]);
    expect(share(total.firstRank, total.caught)).toBeGreaterThan(0.9);
    expect(share(total.threeRanks, total.caught)).toBeGreaterThan(0.99);
    expect(share(total.falseAlarms, total.cards)).toBeLessThan(0.01);
  }, 14_400_000);
});

/** What must never be, however a fault is ranked. */
function whatIsWrong({ shown, rehearsal }: Trial, harms: boolean): string[] {
  const { caught, worked, harm } = rehearsal;
  const [first] = caught;
  return [
    ...(shown.length > 0 && first === undefined ? [`shows at ${shown[0]!.step}, and is not caught`] : []),
    ...(worked.closed ? [] : [`does not close: ${worked.stuck[0]}`]),
    ...harm,
    ...(harms && first === undefined ? ['can do harm, and is not caught'] : []),
    ...(harms && first !== undefined && !isBeforePower(first.stage)
      ? [`is caught at ${first.step} only`]
      : []),
  ];
}

const emptyRow = (): Row => ({ placed: 0, shown: 0, caught: 0, firstRank: 0, threeRanks: 0, closed: 0 });

function count(row: Row, trial: Trial, fault: string): void {
  const rank = rankOf(trial, fault);
  row.placed += 1;
  if (trial.shown.length > 0) row.shown += 1;
  if (trial.rehearsal.caught.length > 0) row.caught += 1;
  if (rank === 1) row.firstRank += 1;
  if (rank !== null && rank <= 3) row.threeRanks += 1;
  if (trial.rehearsal.worked.closed) row.closed += 1;
}
