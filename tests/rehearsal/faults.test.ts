import { describe, expect, test } from 'vitest';
import { CAUSES } from '../../source/electrical/causes.ts';
import { FAULTS } from '../../source/rehearsal/building/faults/list.ts';
import { seededRandom } from '../../source/rehearsal/building/random.ts';
import { report, scale } from '../scale.ts';
import { DEMO, randomSite, type Site } from './run-rehearsal.ts';
import { foresee, isBeforePower, rankOf, type Trial, tryFaults } from './trial.ts';

const names = FAULTS.map(({ name }) => name);
const siteOf = (seed: number): Site => (seed % 4 === 1 ? DEMO : randomSite(seed));

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
        const caught = trial.rehearsal.caught[0];
        const where = `seed ${seed}, ${fault.name}`;
        if (trial.shown.length > 0) expect(caught, `${where} shows at ${trial.shown[0]?.step}`).toBeDefined();
        expect(trial.rehearsal.worked.closed, `${where}: ${trial.rehearsal.worked.stuck[0]}`).toBe(true);
        expect(trial.rehearsal.harm, where).toEqual([]);
        if (!fault.harms) continue;
        expect(caught, where).toBeDefined();
        expect(isBeforePower(caught!.stage), `${where} is caught at ${caught!.step}`).toBe(true);
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
      Object.entries(rows).map(([fault, row]) => ({ fault, ...row })),
    );
    report('One fault, all together', [total]);
    expect(share(total.firstRank, total.caught)).toBeGreaterThan(0.9);
    expect(share(total.threeRanks, total.caught)).toBeGreaterThan(0.99);
    expect(share(total.falseAlarms, total.cards)).toBeLessThan(0.01);
  }, 14_400_000);
});

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

const pairs = scale(500, 0.016);

describe('a building with two faults', () => {
  test(`gives both away in 95 % of ${pairs} rehearsals where both show (seeds from 1)`, () => {
    const random = seededRandom(23, 'pairs');
    const counts = { placed: 0, bothShow: 0, bothCaught: 0, closed: 0 };
    for (let seed = 1; seed <= pairs; seed++) {
      const [first, second] = random.shuffled(names) as [string, string];
      const site = siteOf(seed);
      const [one, other, both] = foresee(site, seed, [[first], [second], [first, second]]);
      const trial = tryFaults(site, seed, [first, second], both!);
      if (trial === null || trial.rehearsal.faults.length < 2) continue;
      counts.placed += 1;
      expect(trial.rehearsal.worked.closed, `seed ${seed}: ${first}, ${second}`).toBe(true);
      counts.closed += 1;
      if (one!.length === 0 || other!.length === 0) continue;
      counts.bothShow += 1;
      if (trial.rehearsal.missed.length === 0) counts.bothCaught += 1;
    }
    report('Two faults', [counts]);
    expect(counts.bothShow).toBeGreaterThan(pairs / 4);
    expect(share(counts.bothCaught, counts.bothShow)).toBeGreaterThanOrEqual(0.95);
  }, 14_400_000);
});
