import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { presentStepById } from '../../source/procedure/present.ts';
import { initialState } from '../../source/procedure/transition.ts';
import { demoPlan } from './demo-plan.ts';

// Without its smoke detector: then the old panel goes.
const plan = demoPlan((text) => text.replace('kind: smoke', 'kind: technical'));
const procedure = buildProcedure(plan);
const doneUpTo = (stop: (id: string) => boolean) => {
  const state = initialState(procedure);
  const status = { ...state.context.status };
  for (const step of procedure.steps) {
    if (stop(step.id)) break;
    if (!step.repeatable) status[step.id] = 'done';
  }
  return { ...state, context: { ...state.context, status } };
};
const pointsAt = (state: ReturnType<typeof doneUpTo>) => {
  const proof = presentStepById(procedure, state, 'supply.prove')?.proof.find(({ field }) => field === 'dc');
  return proof?.kind === 'sweep' ? { points: proof.points, label: proof.label } : { points: [], label: '' };
};

// 29 CFR 1910.333(b)(2)(iv)(B): the circuit elements to which people will be exposed are tested: where wires are
// joined one touch tells of all of them, and a screw that is on the floor is nobody's exposure.
describe('the tour of a proof of dead', () => {
  test('goes to each place once: a screw with two wires is one, and the strip comes in its order', () => {
    const { points } = pointsAt(doneUpTo(() => true));
    expect(new Set(points).size).toBe(points.length);
    const nears = new Set(plan.wiring.conductors.filter((one) => one.atPanel).map(({ near }) => near));
    expect(points.filter((point) => nears.has(point) || !point.startsWith('old:'))).toHaveLength(nears.size);
    const supplied = new Set(['ac', 'battery', 'aux-positive', 'aux-negative', 'sounder']);
    const { terminals } = plan.survey.panel;
    const rails = terminals.filter(({ role }) => supplied.has(role)).map(({ number }) => `old:${number}`);
    expect(points.slice(0, rails.length)).toEqual(rails);
    const screws = points.slice(rails.length).filter((point) => point.startsWith('old:'));
    const numbers = screws.map((point) => Number(point.slice(4)));
    expect(numbers).toEqual([...numbers].sort((a, b) => a - b));
  });

  test('of the sailing club is 31 places, 124 touches in two modes against two references', () => {
    expect(pointsAt(doneUpTo(() => true)).points).toHaveLength(31);
  });

  test('names no board in its box, and no screw of a panel that is out', () => {
    expect(pointsAt(doneUpTo(() => true)).points.filter((point) => point.startsWith('b1:'))).toEqual([]);
    const cleared = pointsAt(doneUpTo((id) => id.startsWith('mount.')));
    expect(cleared.points.filter((point) => point.startsWith('old:'))).toEqual([]);
    expect(cleared.label).toContain('b1:A-');
    const landed = pointsAt(doneUpTo((id) => id.startsWith('cold.')));
    expect(landed.points.filter((point) => point.startsWith('b1:')).length).toBeGreaterThan(10);
    expect(landed.points).not.toContain('c1/1');
  });

  test('follows a wire that is lifted to its end, and keeps the screw for the one that is still there', () => {
    const before = pointsAt(doneUpTo((id) => id === 'measure.z4')).points;
    const after = pointsAt(doneUpTo((id) => id === 'measure.z5')).points;
    expect(before).toContain('old:11');
    expect(after).not.toContain('old:11');
    expect(after).toContain('c7/1');
    // The leg of the resistor of z1 is still under its screw; its wire is off.
    expect(after).toEqual(expect.arrayContaining(['old:7', 'c1/1', 'old:6']));
  });
});
