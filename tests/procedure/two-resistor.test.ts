import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { createJob } from '../../source/job/create.ts';
import { realFiles, realSystem, type System } from '../../source/journal/system.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { carryOut } from '../../source/rehearsal/technician/work.ts';
import { parseBoard } from '../../source/site/parse-board.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { wiringAsFound } from '../../source/site/wiring-as-found.ts';
import { randomSurveyText } from '../random-survey.ts';
import { boardText, demoText } from '../rehearsal/demo-scene.ts';
import { report, scale } from '../scale.ts';

const [ONE, TWO] = [
  '{style: series, resistor: 2k2, window: 20 %}',
  '{style: two-resistor, resistor: 2k2, alarmResistor: 4k7, window: 20 %}',
];
const board = boardText('twelve-supervised').replace(ONE, TWO);
/** The disk without waiting for it. */
const hasty: System = { ...realSystem(), files: { ...realFiles, fsync: () => {} } };

/** Carries out the job in a building without a fault; null where this board cannot take the site. */
function rehearse(text: string, seed: number) {
  const dir = mkdtempSync(join(tmpdir(), 'two-resistor-'));
  try {
    const boards = [{ id: 'b1', file: 'board.yaml', text: board }];
    const rehearsal = { seed, faults: [] };
    const made = { surveyText: text, surveyFile: 'survey.yaml', boards, dir: join(dir, 'job'), rehearsal };
    const job = createJob({ ...made, system: hasty });
    if ('problems' in job || 'blocked' in job) return null;
    const [survey, read] = [parseSurvey(text, 'survey.yaml'), parseBoard(board, 'board.yaml', 'b1')];
    if (!survey.ok || !read.ok) throw new Error('The job was made of what cannot be read.');
    const scene = {
      survey: survey.survey,
      wiring: wiringAsFound(survey.survey),
      boards: [read.board],
    };
    const worked = carryOut(job, enterBuilding(scene, seed, []));
    job.close();
    return worked;
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

test('with two resistors to each loop, fitted as the cards say, every reading is as expected and each site closes', {
  timeout: 600_000,
}, () => {
  const sites = scale(40, 0.1);
  let [closed, blocked, confirmations] = [0, 0, 0];
  for (let seed = 0; seed < sites; seed += 1) {
    const worked = rehearse(seed === 0 ? demoText : randomSurveyText(seed), seed);
    if (worked === null) {
      blocked += 1;
      continue;
    }
    const met = worked.catches.filter(({ causes }) => causes.join() !== 'induced-voltage');
    expect(met, `seed ${seed}`).toEqual([]);
    expect(worked.closed, `seed ${seed}: ${worked.stuck.join(' ')}`).toBe(true);
    closed += 1;
    confirmations += worked.confirmations;
  }
  report('Boards that supervise with two resistors', [{ sites, blocked, closed, confirmations }]);
  expect(closed).toBeGreaterThan(0);
});
