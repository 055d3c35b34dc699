import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test, vi } from 'vitest';
import type { Acted, Action } from '../../source/job/action.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { isPermitted, reasons } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { drive } from '../drive.ts';
import { again, type SmallJob, smallJob } from '../job/small-job.ts';
import { demoPlan } from './demo-plan.ts';
import { eventsOf, STOPS_MET } from './explore.ts';
import { walk } from './walk.ts';

const demo = buildProcedure(demoPlan());
const events = eventsOf(demo, {
  stops: STOPS_MET,
  begins: () => true,
  fails: () => true,
  reopens: () => true,
});
/** What every gate answers at the ends of some walks. */
const answers = (states: readonly JobState[]) =>
  states.map((state) => events.map((event) => (isPermitted(demo, state, event) ? 1 : 0)).join(''));
const states = [0, 1, 2, 3].map((seed) => walk(demo, seed, 150).state);

const shift: Action = { do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' };

async function until(step: string): Promise<SmallJob> {
  const small = smallJob();
  small.job.act(shift);
  const acting = (action: Action) => small.job.act(action) as Acted;
  await drive(small.job.next(), acting, { until: (next) => next.open[0]?.id === step });
  return small;
}

describe('no way round a hard gate', () => {
  test('not by the environment: whatever is set there, every gate answers the same', () => {
    const before = answers(states);
    const names = [
      'FORCE',
      'SKIP',
      'OVERRIDE',
      'UNSAFE',
      'NO_GATES',
      'DEBUG',
      'CI',
      'TEST',
      'EXPERT',
      'YES',
      'PROOF',
    ];
    for (const name of names) {
      vi.stubEnv(name, '1');
      vi.stubEnv(`LOOPWARD_${name}`, '1');
    }
    vi.stubEnv('NODE_ENV', 'development');
    expect(answers(states)).toEqual(before);
  });

  test('not by settings: no room below the screens reads settings or the environment', () => {
    const rooms = ['electrical', 'site', 'plan', 'procedure', 'job', 'journal'];
    const source = new URL('../../source/', import.meta.url).pathname;
    const reading = rooms.flatMap((room) =>
      (readdirSync(join(source, room), { recursive: true }) as string[])
        .filter((file) => file.endsWith('.ts'))
        .filter((file) => /process\.env|\/settings\.ts'/.test(readFileSync(join(source, room, file), 'utf8')))
        .map((file) => `${room}/${file}`),
    );
    expect(reading).toEqual([]);
  });

  test('not by an event: every hard step refuses to be deviated from, at every state of a walk', () => {
    for (const state of states) {
      for (const step of demo.steps.filter((one) => one.hard)) {
        const event: JobEvent = { type: 'deviate', step: step.id };
        expect(nextState(demo, state, event), step.id).toBe(state);
        if (state.job === 'open')
          expect(reasons(demo, state, event).map((one) => one.code)).toContain('hard-step');
      }
    }
  });

  test('not by acknowledging: what a gate refuses stays refused', async () => {
    const small = await until('supply.isolate');
    const acted = small.job.act({
      do: 'begin',
      step: 'measure.z1',
      acknowledge: ['supply-not-so', 'waits-for-step', 'force'],
    });
    expect(acted).toHaveProperty('refused');
    expect(small.job.state.context.status['measure.z1']).toBe('open');
  });

  test('not by the clock: forward or back, what was dead is to be proved again, and nothing opens', async () => {
    for (const by of [-86_400_000, 86_400_000]) {
      const small = await until('label.c1');
      expect(small.job.state.supply).toBe('dead');
      Object.assign(small.clocks, { wall: small.clocks.wall + by });
      const acted = small.job.act({ do: 'begin', step: 'measure.z1' });
      expect(acted).toHaveProperty('refused');
      expect([small.job.state.supply, small.job.state.context.owed]).toEqual(['unproven', 'full']);
    }
  });

  test('not by an edited journal: a verdict that is changed, and a record put in, both fail verification', async () => {
    for (const edit of [
      (text: string) => text.replace('"verdict":"passed"', '"verdict":"failed"'),
      (text: string) => {
        const lines = text.trimEnd().split('\n');
        return `${[...lines, lines.at(-1)!].join('\n')}\n`;
      },
    ]) {
      const small = await until('label.c1');
      small.job.close();
      const file = join(small.dir, 'journal.jsonl');
      const text = readFileSync(file, 'utf8');
      expect(edit(text)).not.toBe(text);
      writeFileSync(file, edit(text));
      expect(['broken', 'torn', 'truncated', 'extended']).toContain(verifyJournal(small.dir).outcome);
      expect(() => again(small)).toThrow();
    }
  });

  test('an initial state lets nothing but looking, telling and a shift through', () => {
    const first = initialState(demo);
    const permitted = events.filter((event) => isPermitted(demo, first, event));
    expect([...new Set(permitted.map((event) => event.type))].sort()).toEqual([
      'doubt',
      'interrupted',
      'start-shift',
    ]);
  });
});
