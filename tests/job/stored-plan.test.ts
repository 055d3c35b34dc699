import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, describe, expect, test, vi } from 'vitest';
import { folder } from './small-job.ts';

/** The program as a later version of it would be: what plans is another one. */
async function program(plans: (made: unknown) => unknown) {
  vi.resetModules();
  vi.doMock('../../source/plan/plan-changeover.ts', async (original) => {
    const { planChangeover } = await original<typeof import('../../source/plan/plan-changeover.ts')>();
    return {
      planChangeover: (...given: Parameters<typeof planChangeover>) => plans(planChangeover(...given)),
    };
  });
  const [run, source, handover, jobs, view, system] = await Promise.all([
    import('../commands/run.ts'),
    import('../../source/handover/read-source.ts'),
    import('../../source/handover/write-handover.ts'),
    import('../../source/job/job.ts'),
    import('../../source/job/read-job.ts'),
    import('../../source/journal/system.ts'),
  ]);
  return { ...run, ...source, ...handover, ...jobs, ...view, ...system };
}

const dir = join(folder(), 'demo');
const asMade = (made: unknown) => made;
const never = () => {
  throw new Error('Somebody planned.');
};
let papers: ReadonlyMap<string, string>;

beforeAll(async () => {
  const { run, composeHandover, readHandoverSource } = await program(asMade);
  const { code, err } = await run([
    'rehearse',
    'fixtures/sailing-club/survey.yaml',
    '--seed',
    '3',
    '--job',
    dir,
  ]);
  expect([code, err]).toEqual([0, '']);
  papers = composeHandover(readHandoverSource(dir), 'a4-65');
});
afterEach(() => vi.doUnmock('../../source/plan/plan-changeover.ts'));

describe('what a job was opened on', () => {
  test('is printed as it was stored: no version of the program plans a sealed job anew', async () => {
    const { composeHandover, readHandoverSource } = await program(never);
    expect(composeHandover(readHandoverSource(dir), 'a4-65')).toEqual(papers);
  });

  test('is what next, history and the screens read, without planning', async () => {
    const { run, Job, realSystem } = await program(never);
    for (const command of ['next', 'history']) expect((await run([command, dir])).code).toBe(0);
    const job = Job.open(dir, realSystem(), 'act');
    expect(job.plan.connections.length).toBeGreaterThan(30);
    expect(job.plan.survey.site.name).toBe('Harbour sailing club');
    job.close();
  });

  test('a correction stores what it changes of the plan, and that is read from then on', async () => {
    const made = await program(asMade);
    const open = join(folder(), 'open');
    await made.run(['start', 'fixtures/sailing-club/survey.yaml', '--job', open]);
    const act = (action: object) => made.run(['act', open, JSON.stringify(action), '--json']);
    await act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
    const before = readFileSync(join(open, 'journal.jsonl')).length;
    const set = [{ path: 'zones.z1.loop.resistor', value: '4k7' }];
    expect((await act({ do: 'correct', reason: 'Read off it.', set })).code).toBe(0);
    expect(readFileSync(join(open, 'journal.jsonl')).length - before).toBeLessThan(before);
    const later = await program(never);
    const job = later.Job.open(open, later.realSystem(), 'act');
    expect(job.plan.survey.zones[0]!.loop.resistorOhms).toBe(4700);
    expect(job.plan.zones.find(({ id }) => id === 'z1')?.resistor.ohms).toBe(4700);
    expect(later.readJob(open).firstBasis.plan?.get('zones')).toContain('2200');
    job.close();
  });
});
