import { existsSync } from 'node:fs';
import { homedir, userInfo } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { readHandoverSource } from '../handover/read-source.ts';
import { composeHandover, writeDocuments } from '../handover/write-handover.ts';
import { bundledFile, DEMO_SURVEY } from '../job/bundled.ts';
import { carryOnIn } from '../job/carry-on.ts';
import { createJob, newJobId } from '../job/create.ts';
import { disksHere, foldersElsewhere } from '../job/elsewhere.ts';
import { Job } from '../job/job.ts';
import { jobTrouble, ledgerFolder } from '../job/jobs.ts';
import { readJob } from '../job/read-job.ts';
import { readSiteFiles } from '../job/site-files.ts';
import { sayTrouble } from '../job/way-on.ts';
import { JournalError } from '../journal/error.ts';
import type { System } from '../journal/system.ts';
import { listFaults } from '../rehearsal/rehearse.ts';
import type { Problem } from '../site/problem.ts';
import { keepSurveyEdit, openSurveyFile, saveSurveyEdit } from './edit/files.ts';
import { portOf, withUsual } from './job-port.ts';
import { listJobs } from './jobs/listing.ts';
import { openRehearsal } from './open-rehearsal.ts';
import type { JobPort, JobShelf } from './port.ts';
import { checkSurvey, readSurveyDraft, savedSurveys, saveSurvey, writeSurveyDraft } from './survey/files.ts';

type Usual = {
  readonly usual?: string | undefined;
  readonly sheet?: string | undefined;
};

/**
 * The jobs of a folder, served to the screens by the job room.
 *
 * @param usual who works here as a rule: offered at the start of a shift
 * @param sheet the sheet that labels are laid out for
 */
export function shelfOf(
  jobsFolder: string,
  system: System,
  { usual = '', sheet = 'a4-65' }: Usual = {},
): JobShelf {
  const ledger = () => ledgerFolder(jobsFolder);
  const openPort = (dir: string) => portOf(Job.open(dir, system, 'screens', ledger), system);
  return {
    list: (wanted) => listJobs(jobsFolder, wanted),
    open: (dir) => jobTrouble(dir) ?? tried(() => withUsual(openPort(dir), usual)),
    elsewhere: (dir) => foldersElsewhere(dir, disksHere(homedir(), userInfo().username)),
    carryOn: (dir, into) =>
      tried(() => {
        carryOnIn(dir, resolve(into), system);
        return withUsual(openPort(resolve(into)), usual);
      }),
    openDemo: () => tried(() => withUsual(openDemo(jobsFolder, system, openPort), usual)),
    faults: () => listFaults().map(({ name, says }) => ({ name, says })),
    openRehearsal: (dir, wrong) =>
      tried(() => withUsual(openRehearsal(jobsFolder, dir, wrong, system), usual)),
    handOver: (dir) => handOver(jobsFolder, dir, sheet),
    readSurveyDraft: () => readSurveyDraft(jobsFolder),
    keepSurveyDraft: (answers) => writeSurveyDraft(jobsFolder, answers),
    check: (text, file) => checkSurvey(text, file === null ? jobsFolder : dirname(resolve(file))),
    saveSurvey: (text, name) => saveSurvey(jobsFolder, text, name),
    surveys: () => savedSurveys(jobsFolder),
    openSurveyFile: (file) => openSurveyFile(jobsFolder, file),
    keepSurveyEdit: (file, draft) => keepSurveyEdit(jobsFolder, file, draft),
    saveSurveyEdit: (file, original, text) => saveSurveyEdit(jobsFolder, file, original, text),
    startFrom: (file) =>
      tried(() => withUsual(startFrom(file, join(jobsFolder, newJobId(system)), system, ledger), usual)),
  };
}

function tried(open: () => JobPort | string): JobPort | string {
  try {
    return open();
  } catch (error) {
    if (error instanceof JournalError) return sayTrouble(error);
    throw error;
  }
}

// A demo that was closed is kept; the next one stands beside it.
function openDemo(jobsFolder: string, system: System, openPort: (dir: string) => JobPort): JobPort | string {
  const ledger = () => ledgerFolder(jobsFolder);
  for (let number = 1; ; number++) {
    const dir = join(jobsFolder, number === 1 ? 'demo' : `demo-${number}`);
    if (!existsSync(join(dir, 'journal.jsonl'))) return startDemo(dir, system, ledger);
    if (!readJob(dir).closed) return openPort(dir);
  }
}

function startDemo(dir: string, system: System, ledger: () => string): JobPort | string {
  const started = startFrom(bundledFile(DEMO_SURVEY), dir, system, ledger);
  return typeof started === 'string' ? `The demo cannot be opened. ${started}` : started;
}

function startFrom(file: string, dir: string, system: System, ledger: () => string): JobPort | string {
  const read = readSiteFiles(file, []);
  if (!read.ok) return problemsSay(read.problems);
  const { surveyText, surveyFile, boardFiles } = read.site;
  const boards = boardFiles;
  const made = createJob({ surveyText, surveyFile, boards, dir, system, sitting: 'screens', ledger });
  if ('problems' in made) return problemsSay(made.problems);
  if ('blocked' in made) return `The plan is blocked, so no work starts. ${made.blocked[0]?.message ?? ''}`;
  return portOf(made, system);
}

function problemsSay(problems: readonly Problem[]): string {
  const [first] = problems;
  return first ? `${first.file}, ${first.field}: ${first.says}` : 'The survey cannot be read.';
}

function handOver(jobsFolder: string, dir: string, sheet: string): string {
  const out = join(jobsFolder, `${basename(dir)}-handover`);
  writeDocuments(out, composeHandover(readHandoverSource(dir), sheet));
  return out;
}
