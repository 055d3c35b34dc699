import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { bundledBoard } from '../../source/job/bundled.ts';
import { createJob } from '../../source/job/create.ts';
import { Job } from '../../source/job/job.ts';
import { readJob } from '../../source/job/read-job.ts';
import { canonicalJson, type Json } from '../../source/journal/canonical.ts';
import { realFiles, realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { driveToClosed } from '../drive.ts';
import { randomSurvey } from '../random-survey.ts';
import { report, scale } from '../scale.ts';
import { folder } from './small-job.ts';

// Only what is written is looked at here; a disk that confirms nothing makes many jobs quick.
const hasty = { ...realSystem(), files: { ...realFiles, fsync: () => undefined } };

function startRandom(seed: number, options: Parameters<typeof randomSurvey>[1]) {
  const { survey, text } = randomSurvey(seed, options);
  const boards = survey.boards.map(({ id, file }) => ({
    id,
    file,
    text: readFileSync(bundledBoard(file)!, 'utf8'),
  }));
  const dir = join(folder(), 'job');
  return {
    dir,
    made: createJob({ surveyText: text, surveyFile: `seed-${seed}`, boards, dir, system: hasty }),
  };
}

describe('jobs of random sites', () => {
  test('each is driven to its close, verifies and replays', { timeout: 600_000 }, async () => {
    const rows: Record<string, unknown>[] = [];
    let blocked = 0;
    for (let seed = 0; seed < scale(200, 0.03); seed += 1) {
      const { dir, made } = startRandom(seed, {});
      if ('problems' in made) throw new Error(`seed ${seed}: ${JSON.stringify(made.problems)}`);
      if ('blocked' in made) {
        blocked += 1;
        continue;
      }
      const next = await driveToClosed(made.next(), (action) => made.act(action));
      const state = canonicalJson(made.state as unknown as Json);
      made.close();
      expect([seed, next.closed]).toEqual([seed, true]);
      expect([seed, verifyJournal(dir).outcome]).toEqual([seed, 'self-consistent']);
      expect(canonicalJson(readJob(dir).state as unknown as Json)).toBe(state);
      rows.push({ seed, cards: next.total, records: readJob(dir).lastRecord?.n });
    }
    expect(rows.length).toBeGreaterThan(blocked);
    report(`jobs of random sites, ${blocked} blocked`, rows.slice(-10));
  });

  test('a site of two hundred detectors fits the journal and answers in good time', {
    timeout: 300_000,
  }, async () => {
    const { dir, made } = startRandom(3, {
      zones: scale(80, 0.5),
      detectors: scale(200, 0.4),
      unknowns: false,
    });
    if (!(made instanceof Job)) throw new Error('The large site is blocked.');
    made.act({ do: 'start-shift', name: 'Ada', instrument: 'meter 3' });
    const lines = readFileSync(join(dir, 'journal.jsonl'), 'utf8').split('\n');
    expect(Math.max(...lines.map((line) => Buffer.byteLength(line)))).toBeLessThanOrEqual(64 * 1024);
    const next = await driveToClosed(made.next(), (action) => made.act(action));
    expect(next.closed).toBe(true);
    made.close();
    expect(verifyJournal(dir).outcome).toBe('self-consistent');
    report('large site', [{ cards: next.total, records: readJob(dir).lastRecord?.n }]);
  });
});
