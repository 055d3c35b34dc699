import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import type { Job } from '../../source/job/job.ts';
import { INVARIANTS } from '../../source/procedure/invariants.ts';
import type { JobEvent } from '../../source/procedure/state.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { seededRandom } from '../../source/rehearsal/building/random.ts';
import { carryOutCarelessly } from '../../source/rehearsal/technician/careless.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { report, scale } from '../scale.ts';
import { DEMO, randomSite, withJob } from './run-rehearsal.ts';
import { portOf } from './trial.ts';

/** Every event that got into the record, in order. */
function eventsOf(job: Job): JobEvent[] {
  return readFileSync(join(job.dir, 'journal.jsonl'), 'utf8')
    .trimEnd()
    .split('\n')
    .map((line) => JSON.parse(line) as { kind: string; data?: { event?: JobEvent } })
    .flatMap(({ kind, data }) => (kind !== 'refused' && data?.event ? [data.event] : []));
}

const technicians = scale(500, 0.01);

test(`${technicians} careless technicians break no invariant of the procedure (seeds from 1)`, () => {
  const tried: Record<string, { refused: number; taken: number }> = {};
  let [passages, closed] = [0, 0];
  for (let seed = 1; seed <= technicians; seed++) {
    const site = seed % 5 === 0 ? DEMO : randomSite(seed);
    withJob(site, (job, scene) => {
      const visit = enterBuilding(scene, seed, []);
      const done = carryOutCarelessly(portOf(job), visit, seededRandom(seed, 'careless'), 200);
      if (done.closed) closed += 1;
      for (const [habit, { refused, taken }] of Object.entries(done.tried)) {
        tried[habit] = {
          refused: (tried[habit]?.refused ?? 0) + refused,
          taken: (tried[habit]?.taken ?? 0) + taken,
        };
      }
      let state = initialState(job.procedure);
      for (const event of eventsOf(job)) {
        const after = nextState(job.procedure, state, event);
        const broken = INVARIANTS.filter(
          ({ holds }) => !holds({ procedure: job.procedure, before: state, event, after }),
        );
        if (broken.length > 0) throw new Error(`seed ${seed}: ${broken[0]!.says}: ${JSON.stringify(event)}`);
        state = after;
        passages += 1;
      }
      // Replaying what was recorded ends where the work ended.
      expect(state).toEqual(job.state);
    });
  }
  report('Careless technicians', [
    { technicians, passages, closed },
    ...Object.entries(tried).map(([habit, counts]) => ({ habit, ...counts })),
  ]);
  expect(passages).toBeGreaterThan(technicians * 20);
  expect(tried['confirms a step that is locked']?.refused).toBeGreaterThan(0);
  expect(tried['confirms a step that is locked']?.taken).toBe(0);
  expect(tried['gives up a hard step']?.taken).toBe(0);
}, 3_600_000);
