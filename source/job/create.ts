import { readdirSync, renameSync, rmdirSync, rmSync } from 'node:fs';
import { JournalError } from '../journal/error.ts';
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
import { Job } from './job.ts';
import { planDigest } from './plan-digest.ts';
import { fieldsOf, withoutSite } from './plan-of-basis.ts';
import { writePrivate } from './private.ts';
import type { Rehearsal } from './replay.ts';
import type { BoardFile } from './site-files.ts';
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
  storeJob(request, read.surveyText, plan);
  const job = Job.open(request.dir, request.system, request.sitting ?? 'act', request.ledger);
  job.enterLedger('opened');
  return job;
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

function storeJob(request: JobRequest, surveyText: string, plan: Plan): void {
  const { dir, system, boards } = request;
  verifyFree(dir);
  const basis: Basis = {
    survey: withoutSite(surveyText),
    boards,
    planDigest: planDigest(plan),
    plan: storePlan(plan),
    procedure: buildProcedure(plan),
  };
  const beside = `${dir}.${system.pid}.new`;
  rmSync(beside, { recursive: true, force: true });
  system.files.mkdir(beside);
  try {
    const journal = Journal.create(beside, opening(request, basis), system);
    try {
      for (const data of basisRecords(basis, 0, null)) journal.append('basis', data);
      writePrivate(beside, { persons: {}, site: plan.survey.site });
    } finally {
      journal.close();
    }
    verifyFree(dir);
    renameSync(beside, dir);
  } catch (error) {
    rmSync(beside, { recursive: true, force: true });
    throw error;
  }
}

function opening({ id, system, rehearsal }: JobRequest, basis: Basis) {
  return {
    job: id ?? newJobId(system),
    version: VERSION,
    node: process.version,
    timeZone: Intl.DateTimeFormat().resolvedOptions().timeZone,
    boards: basis.boards.map((board) => board.id),
    planDigest: basis.planDigest,
    interruptionSeconds: basis.procedure.interruptionSeconds,
    rehearsal: rehearsal ?? null,
  };
}

const LETTERS = 'bcdfghjkmnpqrstvwxz23456789';

/** A date and five letters that tell of no person and no place: `2026-05-04-k3fw7`. */
export function newJobId(system: System): string {
  const letters = [...system.random(5)].map((byte) => LETTERS[byte % LETTERS.length]).join('');
  return `${system.now().toISOString().slice(0, 10)}-${letters}`;
}

/** An empty folder is given up for the job's own. */
function verifyFree(dir: string): void {
  let held: string[];
  try {
    held = readdirSync(dir);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return;
    throw new JournalError('exists', `${dir} is no folder that could hold a job. Give another one.`);
  }
  if (held.length > 0)
    throw new JournalError('exists', `${dir} holds something already. Give another folder.`);
  rmdirSync(dir);
}
