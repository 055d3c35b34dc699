import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { bundledFile, DEMO_SURVEY } from '../job/bundled.ts';
import { createJob, newJobId } from '../job/create.ts';
import { readDraft, writeDraft } from '../job/draft.ts';
import { detailOf, readHistory } from '../job/history.ts';
import { Job } from '../job/job.ts';
import { jobFolders, ledgerFolder } from '../job/jobs.ts';
import { readJob } from '../job/read-job.ts';
import { readSiteFiles } from '../job/site-files.ts';
import type { ReadOnlyJob } from '../job/view.ts';
import { JournalError } from '../journal/error.ts';
import type { System } from '../journal/system.ts';
import { lookUp } from '../procedure/lookup.ts';
import type { Problem } from '../site/problem.ts';
import { briefingOf } from './briefing/compute.ts';
import type { JobLook, JobPort, JobRow, JobShelf } from './port.ts';
import { checkSurvey, readSurveyDraft, saveSurvey, writeSurveyDraft } from './survey/files.ts';
import { localTime } from './times.ts';
import { STAGE_WORDS, SUPPLY_WORDS } from './words.ts';

/**
 * The jobs of a folder, served to the screens by the job room.
 *
 * @param usual who works here as a rule: offered at the start of a shift
 */
export function shelfOf(jobsFolder: string, system: System, usual = ''): JobShelf {
  const ledger = () => ledgerFolder(jobsFolder);
  return {
    list: () =>
      jobFolders(jobsFolder)
        .map(rowOf)
        .filter((row) => row !== null),
    open: (dir) => tried(() => withUsual(openPort(dir, system, ledger), usual)),
    openDemo: () => tried(() => withUsual(openDemo(jobsFolder, system), usual)),
    readSurveyDraft: () => readSurveyDraft(jobsFolder),
    keepSurveyDraft: (answers) => writeSurveyDraft(jobsFolder, answers),
    check: (text) => checkSurvey(jobsFolder, text),
    saveSurvey: (text, name) => saveSurvey(jobsFolder, text, name),
    startFrom: (file) =>
      tried(() => withUsual(startFrom(file, join(jobsFolder, newJobId(system)), system, ledger), usual)),
  };
}

function rowOf(dir: string): JobRow | null {
  const row = { id: dir, dir, rehearsal: false, stage: '', done: 0, total: 0, supply: '' };
  try {
    const job = readJob(dir);
    const next = job.next();
    return {
      ...row,
      id: job.id,
      site: siteOf(job),
      rehearsal: job.rehearsal !== null,
      state: next.closed ? 'closed' : 'open',
      stage: STAGE_WORDS[next.stage],
      done: next.done,
      total: next.total,
      supply: (next.supply === 'dead'
        ? SUPPLY_WORDS.unproven
        : SUPPLY_WORDS[next.supply]
      ).short.toLowerCase(),
      last: localTime(job.lastRecord?.at ?? ''),
    };
  } catch (error) {
    if (!(error instanceof JournalError)) throw error;
    return { ...row, site: dir, state: 'unreadable', last: error.message };
  }
}

function siteOf(job: ReadOnlyJob | Job): string {
  return job.known.site?.name || job.id;
}

function tried(open: () => JobPort | string): JobPort | string {
  try {
    return open();
  } catch (error) {
    if (error instanceof JournalError) return error.message;
    throw error;
  }
}

// A demo that was closed is kept; the next one stands beside it.
function openDemo(jobsFolder: string, system: System): JobPort | string {
  const ledger = () => ledgerFolder(jobsFolder);
  for (let number = 1; ; number++) {
    const dir = join(jobsFolder, number === 1 ? 'demo' : `demo-${number}`);
    if (!existsSync(join(dir, 'journal.jsonl'))) return startDemo(dir, system, ledger);
    if (!readJob(dir).closed) return openPort(dir, system, ledger);
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
  return portOf(made, null, system);
}

function problemsSay(problems: readonly Problem[]): string {
  const [first] = problems;
  return first ? `${first.file}, ${first.field}: ${first.says}` : 'The survey cannot be read.';
}

function openPort(dir: string, system: System, ledger: () => string): JobPort {
  const before = readJob(dir);
  return portOf(Job.open(dir, system, 'screens', ledger), before, system);
}

/** An open job as the screens see it. `before`: as it stood before this sitting began. */
export function portOf(job: Job, before: ReadOnlyJob | null, system: System): JobPort {
  return {
    id: job.id,
    dir: job.dir,
    look: () => lookAt(job),
    act: (action) => job.act(action),
    briefing: () => briefingOf(job, before, system.now()),
    history: (filter) =>
      [...readHistory(job.dir, filter)].map((entry) => ({
        n: entry.n,
        at: localTime(entry.at),
        kind: entry.kind,
        person: entry.person,
        step: entry.step,
        says: entry.says,
        detail: detailOf(entry),
      })),
    previewCorrection: (set) => job.previewCorrection(set),
    readDraft: () => readDraft(job.dir),
    writeDraft: (draft) => writeDraft(job.dir, draft),
    here: () => job.here(),
    close: () => job.close(),
  };
}

function lookAt(job: Job): JobLook {
  const { known, procedure } = job;
  return {
    siteName: siteOf(job),
    rehearsal: job.rehearsal !== null,
    plan: job.plan,
    steps: procedure.steps,
    status: job.state.context.status,
    next: job.next(),
    dependents: lookUp(procedure).dependents,
    persons: Object.values(known.persons).reverse(),
    values: valuesOf(job),
  };
}

// What was typed at the last try of each step: what looking back shows.
function valuesOf(job: Job): JobLook['values'] {
  const found: Record<string, Record<string, string>> = {};
  for (const [step, tries] of job.results) {
    const last = tries.findLast((result) => result.do === 'confirm');
    if (!last) continue;
    found[step] = Object.fromEntries(
      Object.entries(last.values).map(([field, value]) => [field, value.typed]),
    );
  }
  return found;
}

function withUsual(port: JobPort | string, usual: string): JobPort | string {
  if (typeof port === 'string' || usual === '') return port;
  const look = () => {
    const seen = port.look();
    return { ...seen, persons: [usual, ...seen.persons.filter((name) => name !== usual)] };
  };
  return { ...port, look };
}
