import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { Action, OpenStep } from '../../source/job/action.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { readJob } from '../../source/job/read-job.ts';
import { readSiteFiles } from '../../source/job/site-files.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { realFiles } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { answersTo } from '../drive.ts';
import { Clocks, fakeSystem, seeded } from '../journal/world.ts';
import { report, scale } from '../scale.ts';
import { folder } from './small-job.ts';

const stateBytes = (job: { state: unknown }) => canonicalJson(job.state as Json);
const CORRECTIONS = [
  { path: 'zones.z1.loop.resistor', value: '4k7' },
  { path: 'zones.z1.loop.resistor', value: '2k2' },
  { path: 'cables.c5.length', value: '2000 m' },
  { path: 'cables.c5.length', value: '20 m' },
  { path: 'detectors.hall.importance', value: 4 },
];

/** What somebody might do next, sensible more often than not. */
function drawAction(random: () => number, open: readonly OpenStep[], all: readonly string[]): Action {
  const pick = <T>(from: readonly T[]): T => from[Math.floor(random() * from.length)]!;
  const some = random() < 0.9 && open.length > 0 ? pick(open.slice(0, 4)) : undefined;
  const step = some?.id ?? pick(all);
  const roll = random();
  if (roll < 0.72) {
    const values = some ? answersTo(some) : {};
    const [field] = Object.keys(values);
    if (field && random() < 0.1) values[field] = '777';
    return { do: 'confirm', step, values };
  }
  if (roll < 0.76) return { do: 'begin', step };
  if (roll < 0.8) return { do: 'fail', step, reason: 'it cannot be' };
  if (roll < 0.84) return { do: 'deviate', step, reason: 'no time', residualRisk: 'some' };
  if (roll < 0.88) return { do: 'reopen', step, reason: 'look again' };
  if (roll < 0.9) return { do: 'doubt' };
  if (roll < 0.92) return { do: 'pause', reason: 'phone' };
  if (roll < 0.93) return { do: 'leave', values: {} };
  if (roll < 0.95) return { do: 'start-shift', name: pick(['Ada', 'Ben']), instrument: 'meter 3' };
  if (roll < 0.97) return { do: 'away', where: 'lorry', forTime: '20 min' };
  if (roll < 0.975) return { do: 'correct', reason: 'seen', set: [pick(CORRECTIONS)] };
  return { do: 'note', text: 'something' };
}

describe('a random walk over the demo', () => {
  test('replays to the same state at every reopening, and the record stays whole', {
    timeout: 300_000,
  }, () => {
    const random = seeded(11);
    const clocks = new Clocks();
    const system = fakeSystem(realFiles, clocks);
    const read = readSiteFiles(bundledFile(DEMO_SURVEY), []);
    if (!read.ok) throw new Error('The demo cannot be read.');
    const { surveyText, surveyFile, boardFiles: boards } = read.site;
    const dir = join(folder(), 'job');
    const made = createJob({ surveyText, surveyFile, boards, dir, system });
    if (!(made instanceof Job)) throw new Error('The demo is blocked.');
    let job = made;
    job.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
    const seen = new Map<string, number>();
    const supplies = new Set<string>();
    for (let count = 0; count < scale(4000, 0.08); count += 1) {
      if (random() < 0.02) {
        job.close();
        if (random() < 0.5) clocks.pass(Math.round(random() * 3_600_000));
        if (random() < 0.2) clocks.boot = `boot-${count}`;
        const bytes = stateBytes(job);
        expect(stateBytes(readJob(dir))).toBe(bytes);
        job = Job.open(dir, system, 'act');
        expect(stateBytes(job)).toBe(bytes);
      }
      clocks.pass(20_000);
      const { open } = job.next();
      const acted = job.act(
        drawAction(
          random,
          open,
          job.procedure.steps.map((step) => step.id),
        ),
      );
      const shape =
        'outcome' in acted
          ? acted.outcome
          : (['refused', 'malformed', 'challenge'].find((key) => key in acted) ?? '');
      seen.set(shape, (seen.get(shape) ?? 0) + 1);
      supplies.add(job.state.supply);
    }
    expect(stateBytes(readJob(dir))).toBe(stateBytes(job));
    job.close();
    expect(verifyJournal(dir).outcome).toBe('open');
    for (const shape of ['passed', 'failed', 'recorded', 'refused'])
      expect(seen.get(shape)).toBeGreaterThan(5);
    expect(supplies.size).toBeGreaterThanOrEqual(3);
    report('random walk over the demo, seed 11', [
      { ...Object.fromEntries(seen), supplies: [...supplies].join(' ') },
    ]);
  });
});
