import { dirname, join } from 'node:path';
import { abandonedIn, asideOf, isBeingMade, removeFolder, takeName } from '../journal/aside.ts';
import { sha256 } from '../journal/digest.ts';
import { diskError } from '../journal/error.ts';
import { Journal } from '../journal/journal.ts';
import type { System } from '../journal/system.ts';
import type { Finding, Plan } from '../plan/plan.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { storePlan } from '../plan/stored-plan.ts';
import { buildProcedure } from '../procedure/build-procedure.ts';
import type { Board } from '../site/board.ts';
import { parseBoard } from '../site/parse-board.ts';
import { parseSurvey } from '../site/parse-survey.ts';
import { printWritten } from '../site/print-written.ts';
import type { Problem } from '../site/problem.ts';
import type { Survey } from '../site/survey.ts';
import { type Basis, basisRecords } from './basis.ts';
import { freeName, verifyFree } from './free-folder.ts';
import { Job } from './job.ts';
import { commitmentTo, SITE } from './name-book.ts';
import { drawSalt } from './persons.ts';
import { planDigest } from './plan-digest.ts';
import { fieldsOf, withoutSite } from './plan-of-basis.ts';
import { writePrivate } from './private.ts';
import type { Rehearsal } from './replay.ts';
import type { BoardFile } from './site-files.ts';
import { endStart, markStart, unfinishedStart } from './start-mark.ts';
import { VERSION } from './version.ts';

/** What a job is opened from. */
type JobRequest = {
  readonly surveyText: string;
  readonly surveyFile: string;
  readonly boards: readonly BoardFile[];
  /** The folder to make for it; it must not exist, or be empty. */
  readonly dir: string;
  /** Where the folder is named by it; otherwise one is made. */
  readonly id?: string;
  readonly system: System;
  readonly rehearsal?: Rehearsal;
  /** Minutes of interruption for a survey whose policy names none. */
  readonly interruptionMinutes?: number;
  readonly sitting?: 'screens' | 'act';
  /** Folder of the ledger of jobs; a rehearsal enters none. */
  readonly ledger?: () => string;
  /**
   * Whoever asks calls `endStart` once the person knows of the job. The same request after a kill before that comes to
   * the same job: the one in `dir`, or anywhere in this folder where `dir` is but a name that was drawn.
   */
  readonly untilTold?: { readonly anywhereIn: string | null };
};

/**
 * Opens a job: plans it and stores what it stands on. The folder appears whole or not at all.
 *
 * @returns the job; or what is wrong with the files; or what blocks the plan, and then no work starts
 * @throws JournalError `exists` where the folder holds something, `disk-full`, `io`
 */
export function createJob(
  request: JobRequest,
): Job | { readonly problems: readonly Problem[] } | { readonly blocked: readonly Finding[] } {
  const read = readTexts(request);
  if ('problems' in read) return read;
  const plan = planChangeover(read.survey, read.boards);
  const blocking = plan.findings.filter((finding) => finding.severity === 'block');
  if (plan.verdict === 'blocked') return { blocked: blocking };
  const { system, untilTold } = request;
  const of = sha256(JSON.stringify([read.surveyText, request.boards, request.rehearsal ?? null, VERSION]));
  const begun = untilTold ? unfinishedStart(foldersOf(request, untilTold.anywhereIn), of, system) : null;
  const dir = begun ?? storeJob(request, read.surveyText, plan, of);
  const job = Job.open(dir, system, request.sitting ?? 'act', request.ledger);
  job.enterLedger('opened');
  if (!untilTold) endStart(dir, system);
  return job;
}

function foldersOf({ dir, system }: JobRequest, anywhereIn: string | null): readonly string[] {
  if (anywhereIn === null) return [dir];
  try {
    const names = system.files.list(anywhereIn).filter((name) => !isBeingMade(name));
    return names.map((name) => join(anywhereIn, name));
  } catch {
    return [];
  }
}

type Texts = { readonly surveyText: string; readonly survey: Survey; readonly boards: readonly Board[] };

function readTexts(request: JobRequest): Texts | { readonly problems: readonly Problem[] } {
  const { surveyText, surveyFile, interruptionMinutes } = request;
  const given = parseSurvey(surveyText, surveyFile);
  const boards = request.boards.map(({ id, file, text }) => parseBoard(text, file, id));
  const problems = [given, ...boards].flatMap((one) => (one.ok ? [] : one.problems));
  if (!given.ok || problems.length > 0) return { problems };
  const text = interruptionMinutes ? withInterruption(surveyText, interruptionMinutes) : surveyText;
  const survey = text === surveyText ? given : parseSurvey(text, surveyFile);
  if (!survey.ok) return { problems: survey.problems };
  return {
    surveyText: text,
    survey: survey.survey,
    boards: boards.flatMap((one) => (one.ok ? [one.board] : [])),
  };
}

/** The person's own minutes where the survey names none; the survey keeps them from then on. */
function withInterruption(surveyText: string, minutes: number): string {
  const fields = fieldsOf(surveyText);
  const policy = typeof fields.policy === 'object' ? fields.policy : {};
  if ('interruption' in policy) return surveyText;
  return printWritten({ ...fields, policy: { ...policy, interruption: `${minutes} min` } });
}

/** @returns the folder, which has its name once all is in it */
function storeJob(request: JobRequest, surveyText: string, plan: Plan, of: string): string {
  const { dir, system, boards } = request;
  const { files } = system;
  verifyFree(dir, files);
  const basis: Basis = {
    survey: withoutSite(surveyText),
    boards,
    planDigest: planDigest(plan),
    plan: storePlan(plan),
    procedure: buildProcedure(plan),
  };
  const aside = asideOf(dir, 'start', dir, system);
  try {
    files.mkdir(dirname(dir));
    for (const left of abandonedIn(dirname(dir), 'start', system)) removeFolder(files, left);
    removeFolder(files, aside);
    files.mkdir(aside);
    try {
      fillJob(aside, request, basis, plan);
      markStart(aside, of, system);
      freeName(dir, files);
      takeName(files, aside, dir);
    } catch (error) {
      removeFolder(files, aside);
      throw error;
    }
  } catch (error) {
    throw diskError(`${dir} cannot be made`, error);
  }
  return dir;
}

function fillJob(aside: string, request: JobRequest, basis: Basis, plan: Plan): void {
  const { site } = plan.survey;
  const salt = drawSalt(request.system);
  const names = { [SITE]: commitmentTo(SITE, site, salt) };
  const journal = Journal.create(aside, { ...opening(request, basis), names }, request.system);
  try {
    for (const data of basisRecords(basis, 0, null)) journal.append('basis', data);
    writePrivate(aside, { persons: {}, site, salts: { [SITE]: salt } }, request.system.files);
  } finally {
    journal.close();
  }
}

function opening({ id, system, rehearsal }: JobRequest, basis: Basis) {
  return {
    job: id ?? newJobId(system),
    version: VERSION,
    node: process.version,
    timeZone: zoneName(system.now()),
    boards: basis.boards.map((board) => board.id),
    planDigest: basis.planDigest,
    interruptionSeconds: basis.procedure.interruptionSeconds,
    rehearsal: rehearsal ?? null,
  };
}

/** The zone of this computer by its name; where it has none (`TZ=UTC+2`), by the offset as the zone database names whole hours. */
function zoneName(now: Date): string {
  const named: string | undefined = Intl.DateTimeFormat().resolvedOptions().timeZone;
  if (named && named !== 'Etc/Unknown') return named;
  const westHours = now.getTimezoneOffset() / 60;
  if (!Number.isInteger(westHours) || westHours === 0) return 'UTC';
  return `Etc/GMT${westHours > 0 ? '+' : '-'}${Math.abs(westHours)}`;
}

const LETTERS = 'bcdfghjkmnpqrstvwxz23456789';

/** A date and five letters that tell of no person and no place: `2026-05-04-k3fw7`. */
export function newJobId(system: System): string {
  const letters = [...system.random(5)].map((byte) => LETTERS[byte % LETTERS.length]).join('');
  return `${system.now().toISOString().slice(0, 10)}-${letters}`;
}
