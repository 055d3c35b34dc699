import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import type { Acted, Next } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { Job } from '../../source/job/job.ts';
import { briefingOf } from '../../source/screens/briefing/compute.ts';
import type { Briefing } from '../../source/screens/port.ts';
import { drive, driveToClosed } from '../drive.ts';
import { hasty } from '../handover/jobs.ts';
import { folder } from '../job/small-job.ts';
import { run } from './run.ts';

const dir = join(folder(), 'demo');
const REASON = 'No ladder that long';
const RISK = 'It may not report';

/** What is given up on the way, in this order, and how its act went. */
const GIVEN_UP = [
  ['resistors.z4', 'not-done'],
  ['rewire.c9', 'unknown'],
  ['walk.office-window', null],
] as const;

let job: Job;
const seen: { readonly [key: string]: Next } = {};
let briefing: Briefing;
let denied: Acted;
let deniedCode: number;

beforeAll(async () => {
  await run(['start', bundledFile(DEMO_SURVEY), '--job', dir], { system: hasty });
  job = Job.open(dir, hasty, 'act');
  const act = (action: unknown) => job.act(action);
  act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  const until = (step: string) => drive(job.next(), act, { until: (next) => next.open[0]?.id === step });
  for (const [step, how] of GIVEN_UP) {
    await until(step);
    const [card] = job.next().open;
    Object.assign(seen, { [`before ${step}`]: job.next() });
    const acts = how === null ? {} : { acts: card!.acts.map(({ key }) => ({ act: key, how })) };
    act({ do: 'deviate', step, reason: REASON, residualRisk: RISK, ...acts });
    Object.assign(seen, { [step]: job.next() });
  }
  briefing = briefingOf(job, new Date());
  await until('handover.user');
  Object.assign(seen, { told: job.next() });
  job.close();
  const values = { who: 'owner', 'open-points': 'none' };
  const ran = await run([
    'act',
    dir,
    JSON.stringify({ do: 'confirm', step: 'handover.user', values }),
    '--json',
  ]);
  [denied, deniedCode] = [ran.json as Acted, ran.code];
  job = Job.open(dir, hasty, 'act');
  Object.assign(seen, { closed: await driveToClosed(job.next(), act) });
  await run(['handover', dir, '--out', join(dir, 'papers')]);
}, 120_000);

const paper = (name: string) => readFileSync(join(dir, 'papers', name), 'utf8');

describe('what was given up on the way', () => {
  test('is told by next from then on: what is so, why, by whom, at what risk, in which record', () => {
    expect(seen['before resistors.z4']?.differs).toBeUndefined();
    const [resistor, ...more] = seen['resistors.z4']?.differs ?? [];
    expect(more).toEqual([]);
    expect(resistor).toMatchObject({ why: REASON, by: 'p1', risk: RISK });
    expect(resistor?.what).toBe('The resistor of 2.2 kΩ at loft is still in (z4.end-of-line); it was to go');
    expect(job.results.get('resistors.z4')?.at(-1)?.n).toBe(resistor?.record);
    expect(seen['rewire.c9']?.differs?.map(({ what }) => what)).toEqual([
      'Where brown of c9 (c9/2) is, nobody can say; planned on b1 C4',
      resistor?.what,
    ]);
    expect(seen.closed?.differs).toEqual(seen['walk.office-window']?.differs);
  });

  test('is told by next in words, and by the briefing', async () => {
    const { out } = await run(['next', dir]);
    expect(out).toContain(`NOT AS PLANNED: The resistor of 2.2 kΩ at loft is still in`);
    expect(briefing.notAsPlanned).toHaveLength(2);
    expect(briefing.notAsPlanned[0]).toContain(REASON);
  });

  test('what is live follows what was done', () => {
    expect(seen['before resistors.z4']?.live).toEqual([]);
    expect(seen.closed?.live).toEqual(['adapter:b1', 'sounder:gable', 'board-battery:b1']);
  });

  test('nobody is told that there are no open points: the card does not offer it, and it is refused', () => {
    const asked = seen.told?.open[0]?.proof.find(({ field }) => field === 'open-points');
    expect(asked?.kind === 'choice' && asked.options.map(({ id }) => id)).toEqual(['read', 'not-accepted']);
    expect(asked?.label).toContain('Sail loft');
    expect(deniedCode).toBe(3);
    expect(denied).toMatchObject({ because: [expect.stringContaining('There are open points')] });
  });

  test('stands in every document of the job once it is sealed', () => {
    const text = paper('handover.txt');
    const first = text.slice(text.indexOf('FIRST: '), text.indexOf('Deviations'));
    for (const words of [
      '2.2 kΩ at loft is still in',
      '(c9/2) is, nobody can say',
      REASON,
      RISK,
      'Ada Lovett',
      'NOT TESTED',
    ])
      expect(first).toContain(words);
    const card = paper('zone-card.txt');
    expect(card).toMatch(/^b1 7 +NOT KNOWN whether connected: .*NOT TESTED: Race-office window/m);
    expect(card).not.toContain('NOT FINISHED');
    expect(paper('labels.txt')).toMatch(/^c9\/2 .*→ not known/m);
    const { asLeft } = JSON.parse(paper('handover.json')) as {
      asLeft: { differs: unknown[]; power: unknown[] };
    };
    expect(asLeft.differs).toHaveLength(2);
  });

  test('is what history answers', async () => {
    const asked = async (name: string) => (await run(['history', dir, '--question', name])).out;
    expect(await asked('resistors')).toMatch(
      /Sail loft: still in: 2.2 kΩ at loft, by Ada Lovett, .* {2}#\d+/,
    );
    expect(await asked('resistors')).toMatch(/Boat store: removed 2.2 kΩ, by Ada Lovett, .* {2}#\d+/);
    expect(await asked('connections')).toMatch(
      /\(c9\/2\), Race-office window: nobody knows where, by Ada Lovett/,
    );
    expect(await asked('connections')).toMatch(
      /\(c1\/1\), Boat-store shutter: on b1 I1, by Ada Lovett, .* {2}#\d+/,
    );
    expect(await asked('live')).toMatch(/The old feed: off, by Ada Lovett, .* {2}#\d+/);
  });
});
