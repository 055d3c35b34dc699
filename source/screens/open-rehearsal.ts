import { join } from 'node:path';
import { bundledFile, DEMO_SURVEY } from '../job/bundled.ts';
import { createJob, newJobId } from '../job/create.ts';
import { planInForce, withSite } from '../job/plan-of-basis.ts';
import { readJob } from '../job/read-job.ts';
import { readSiteFiles, type SiteRead } from '../job/site-files.ts';
import type { System } from '../journal/system.ts';
import { drawFaults } from '../rehearsal/draw-faults.ts';
import { enterBuilding } from '../rehearsal/technician/visit.ts';
import { wiringAsFound } from '../site/wiring-as-found.ts';
import { portOf } from './job-port.ts';
import type { JobPort, Wrong } from './port.ts';

/**
 * A rehearsal of a job as it stands surveyed by now, or of the demo. It stands beside the jobs and enters no
 * ledger; its seed is drawn anew each time.
 *
 * @param dir the job's folder; null for the demo
 * @returns a sentence where that cannot be
 */
export function openRehearsal(
  jobsFolder: string,
  dir: string | null,
  wrong: Wrong,
  system: System,
): JobPort | string {
  const read = dir === null ? readSiteFiles(bundledFile(DEMO_SURVEY), []) : siteOfJob(dir);
  if (!read.ok) return `The survey cannot be read. ${read.problems[0]?.says ?? ''}`;
  const { surveyText, surveyFile, boardFiles, survey, boards } = read.site;
  const [high = 0, low = 0] = system.random(2);
  const seed = high * 256 + low + 1;
  const scene = { survey, wiring: wiringAsFound(survey), boards };
  const faults = 'fault' in wrong ? [wrong.fault] : drawFaults(scene, seed, wrong.drawn);
  if ('fault' in wrong && enterBuilding(scene, seed, faults).faults.length === 0)
    return 'This building has no place for that. Choose something else to be wrong in it.';
  const made = createJob({
    surveyText,
    surveyFile,
    boards: boardFiles,
    dir: join(jobsFolder, `rehearsal-${newJobId(system)}`),
    system,
    sitting: 'screens',
    rehearsal: { seed, faults },
  });
  if ('problems' in made) return `The rehearsal cannot be planned. ${made.problems[0]?.says ?? ''}`;
  if ('blocked' in made)
    return `The plan is blocked, so there is nothing to rehearse. ${made.blocked[0]?.message ?? ''}`;
  return portOf(made, system);
}

function siteOfJob(dir: string): SiteRead {
  const job = readJob(dir);
  const { survey, boards } = planInForce(job.basis, job.known.site);
  const surveyText = withSite(job.basis.survey, job.known.site);
  return {
    ok: true,
    site: { surveyFile: 'survey', surveyText, survey, boardFiles: job.basis.boards, boards },
  };
}
