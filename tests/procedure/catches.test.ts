import { expect, test } from 'vitest';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { leakOhms } from '../../source/plan/points/aux-cold.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { isKnownSource } from '../../source/procedure/decisive.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import type { ReadingProof } from '../../source/procedure/step.ts';
import type { Board } from '../../source/site/board.ts';
import { randomSurvey } from '../random-survey.ts';
import { report, scale } from '../scale.ts';

/** What a fault gives, worked out here by itself and not by what draws the window. Null where the site has no such fault. */
type Fault = readonly [name: string, card: RegExp, field: RegExp, gives: (board: Board) => number | null];

// Lead-acid at rest, six cells: 12.0 V a quarter full, 11.8 V nearly flat, a dead cell takes a sixth (Linden, Handbook of
// Batteries; from memory). On the first build 10.6 V passed as a new battery and 10.2 V as one after five minutes.
const FAULTS: readonly Fault[] = [
  [
    'dead cell',
    /^power\.battery\./,
    /^volts$/,
    ({ battery }) => battery && battery.volts * (12.9 / 12) * (5 / 6),
  ],
  ['battery never charged', /^power\.battery\./, /^volts$/, ({ battery }) => battery?.volts ?? null],
  [
    'battery nearly flat after five minutes',
    /^walk\.mains-failure\./,
    /^aux$/,
    ({ battery, aux }) => battery && battery.volts * (11.8 / 12) - aux.dropFromBatteryVolts,
  ],
  [
    'adapter that destroys the board',
    /^prepare\.adapter\./,
    /^dc$/,
    ({ supply }) => supply.accepts.toVolts + 0.2,
  ],
  [
    'adapter too low for the board',
    /^prepare\.adapter\./,
    /^dc$/,
    ({ supply }) => supply.accepts.fromVolts - 0.2,
  ],
  [
    'adapter that never fills the battery',
    /^prepare\.adapter\./,
    /^dc$/,
    // Where the board's own adapter brings no more, the plan says that it never fills; a cable on the way only adds.
    ({ battery, adapter }) =>
      battery && adapter.lead === null && adapter.volts * (1 - adapter.tolerance) >= battery.floatVolts
        ? battery.floatVolts - 0.4
        : null,
  ],
];

function* readings(seeds: number) {
  for (let seed = 0; seed < seeds; seed += 1) {
    const { survey, boards } = randomSurvey(seed);
    const plan = planChangeover(survey, boards);
    for (const step of buildProcedure(plan).steps)
      for (const proof of step.proof) if (proof.kind === 'reading') yield { seed, plan, step, proof };
  }
}

const UNITS = { ohm: 'ohm', V: 'V', A: 'A' } as const;

/** Judged by itself, as the card would. */
function verdictOf(proof: ReadingProof, value: number) {
  const { when: _, unless: __, agreesWith: ___, ...alone } = proof;
  const judged = judgeProof(
    { proof: [alone] },
    { [proof.field]: `${value.toFixed(4)} ${UNITS[proof.unit]}` },
  );
  return judged.ok ? judged.verdict : 'malformed';
}

test('a reading does not take what the faults give that it is there to catch', () => {
  const counts = new Map<string, number>();
  for (const { seed, plan, step, proof } of readings(scale(800, 0.3))) {
    for (const { fault, gives } of proof.catches ?? []) {
      counts.set(fault, (counts.get(fault) ?? 0) + 1);
      expect(
        verdictOf(proof, gives),
        `seed ${seed}: ${step.id} ${proof.field} takes ${gives}, ${fault}`,
      ).toBe('failed');
    }
    for (const [name, card, field, gives] of FAULTS) {
      if (!card.test(step.id) || !field.test(proof.field)) continue;
      const board = plan.boards.find(({ id }) => step.about.includes(id));
      const value = board === undefined ? null : gives(board);
      if (value === null) continue;
      counts.set(name, (counts.get(name) ?? 0) + 1);
      expect(verdictOf(proof, value), `seed ${seed}: ${step.id} takes ${value} V, ${name}`).toBe('failed');
    }
  }
  report(
    'Faults that readings catch',
    [...counts].map(([fault, cards]) => ({ fault, cards })),
  );
  for (const [name] of FAULTS) expect(counts.get(name) ?? 0, name).toBeGreaterThan(5);
});

test('what may lie between aux and a free loop wire keeps every input below what it stands', () => {
  let met = 0;
  for (const { seed, plan, proof } of readings(scale(800, 0.3))) {
    if (!proof.field.startsWith('leak:')) continue;
    const to = plan.connections.find(({ conductor }) => conductor === proof.between[1])?.to;
    const board = plan.boards.find(({ id }) => to && 'board' in to && id === to.board);
    if (board === undefined || proof.usable === null) continue;
    met += 1;
    // Two sources on one node, by Millman's theorem, with the contact open and everything at its worst.
    const at = (leak: number) => {
      const pullUp = board.sensing.pullUpOhms * (1 + board.sensing.pullUpTolerance);
      const aux = board.aux.mainsVolts * (1 + board.aux.mainsTolerance);
      return (board.sensing.referenceVolts / pullUp + aux / leak) / (1 / pullUp + 1 / leak);
    };
    expect(at(proof.usable.min), `seed ${seed}`).toBeLessThan(board.sensing.inputMaximumVolts * 1.0001);
    expect(at(proof.usable.min * 0.9)).toBeGreaterThan(board.sensing.inputMaximumVolts);
    expect(proof.usable.min).toBe(leakOhms(board));
  }
  expect(met).toBeGreaterThan(20);
});

/** Readings that judge and name no fault of their own, with the reason. */
const NAMES_NONE: readonly (readonly [RegExp, string])[] = [
  [/^ac-loaded$|^ac$/, 'any voltage is the fault'],
  [/^aux-/, 'a regulator that is out by more than twice its tolerance'],
  [/^volts$|^aux$|^battery$|^dc$/, 'an old panel, judged by no more than that it is extra-low voltage'],
  [/^part[.:]/, 'the value of a new part, by its own tolerance'],
  [/^input-|^cold-/, 'less than the least is the fault'],
  [/^leak:/, 'an input that stands no more than its own reference: anything but OL is the fault'],
];

test('each reading that judges names what it catches, or why it names nothing', () => {
  const silent = new Set<string>();
  for (const { proof, step } of readings(scale(800, 0.1))) {
    if (proof.point !== null || isKnownSource(proof) || (proof.usable === null && !proof.danger)) continue;
    if ((proof.catches ?? []).length > 0) continue;
    if (!NAMES_NONE.some(([field]) => field.test(proof.field))) silent.add(`${step.id} ${proof.field}`);
  }
  expect([...silent]).toEqual([]);
});
