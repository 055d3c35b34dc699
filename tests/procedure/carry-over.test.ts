import { expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { carryOver, stepChanges } from '../../source/procedure/carry-over.ts';
import { INVARIANTS } from '../../source/procedure/invariants.ts';
import { isSettled, lookUp } from '../../source/procedure/lookup.ts';
import { closeNeeds } from '../../source/procedure/next.ts';
import { scale } from '../scale.ts';
import { demoPlan } from './demo-plan.ts';
import { lead, leadTo } from './lead.ts';
import { walk } from './walk.ts';

const demo = buildProcedure(demoPlan());
/** What a survey turns out to have been wrong about. */
const CORRECTIONS: Readonly<Record<string, (text: string) => string>> = {
  'another resistor': (text) => text.replace('resistor: 2k2', 'resistor: 4k7'),
  'another feed': (text) => text.replace('feed: plug-in-transformer', 'feed: hard-wired-transformer'),
  'feeds nobody followed': (text) => text.replace('otherFeeds: none', 'otherFeeds: unknown'),
  'a longer cable': (text) => text.replace('length: 18 m', 'length: 31 m'),
  'a name alone': (text) => text.replace('name: Boat-store shutter', 'name: Slipway shutter'),
};

test.each(Object.entries(CORRECTIONS))(
  '%s: what is unchanged keeps its state, the rest opens again, and work goes on',
  (_, change) => {
    const after = buildProcedure(demoPlan(change));
    const { added, changed, struck } = stepChanges(demo, after);
    expect(added.length + changed.length + struck.length).toBeGreaterThan(0);
    for (let seed = 0; seed < scale(40, 0.2); seed += 1) {
      const { state } = walk(demo, seed, 200 + (seed % 3) * 60);
      if (state.job === 'closed') continue;
      const carried = carryOver(demo, state, after);
      for (const invariant of INVARIANTS.filter((one) => one.number === 8 || one.number === 9)) {
        expect(
          invariant.holds({ procedure: after, before: carried, event: { type: 'doubt' }, after: carried }),
          `seed ${seed}: ${invariant.says}`,
        ).toBe(true);
      }
      const resting = new Set(
        [...added, ...changed].flatMap((id) => [id, ...(lookUp(after).dependents.get(id) ?? [])]),
      );
      for (const step of after.steps) {
        const now = carried.context.status[step.id];
        if (!resting.has(step.id)) expect(now, `seed ${seed} ${step.id}`).toBe(state.context.status[step.id]);
        else if (!step.repeatable)
          expect(now === 'excluded' || !isSettled(now), `seed ${seed} ${step.id}`).toBe(true);
      }
      // A source that is new to the job is isolated before anything counts as dead again.
      if (added.includes('isolate.foreign')) expect(['dead', 'unproven']).not.toContain(carried.supply);
      expect(closeNeeds(after, lead(after, ['done'], carried).state), `seed ${seed}`).toEqual([]);
    }
  },
);

// A job that is corrected in mid-work must not ask again for what the correction says nothing about.
test.each([
  ['another resistor', CORRECTIONS['another resistor']!],
  [
    'a resistor that is not where it should be',
    (text: string) => text.replace('resistorAt: panel', 'resistorAt: unknown'),
  ],
])(
  '%s in one zone, all dead and lifted: the other zones, the bench and the proof of dead stand',
  (_, change) => {
    const state = leadTo(demo, 'rewire.c3');
    const carried = carryOver(demo, state, buildProcedure(demoPlan(change)));
    const status = (id: string) => carried.context.status[id];
    expect(carried.supply).toBe('dead');
    expect(
      ['measure.found', 'measure.z2', 'split.z3', 'prepare.adapter.b1', 'prepare.inputs.b1'].map(status),
    ).toEqual(['done', 'done', 'done', 'done', 'done']);
    expect([status('resistors.z1'), status('clear.voltage')]).toEqual(['unknown', 'open']);
  },
);

test('a source that comes new while all is proved dead is isolated before anything counts as dead again', () => {
  const after = buildProcedure(demoPlan(CORRECTIONS['feeds nobody followed']));
  let checked = 0;
  for (let seed = 0; seed < 60; seed += 1) {
    const { state } = walk(demo, seed, 260);
    if (state.supply !== 'dead' && state.supply !== 'unproven') continue;
    checked += 1;
    const carried = carryOver(demo, state, after);
    expect(carried.supply, `seed ${seed}`).toBe('isolating');
    expect(carried.context.owed).toBe('none');
  }
  expect(checked).toBeGreaterThan(5);
});
