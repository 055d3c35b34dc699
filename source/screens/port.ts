import type { Acted, Action, Next, TypedValue } from '../job/action.ts';
import type { Draft } from '../job/draft.ts';
import type { HistoryFilter as JobFilter } from '../job/history.ts';
import type { Plan } from '../plan/plan.ts';
import type { StepStatus } from '../procedure/state.ts';
import type { Step } from '../procedure/step.ts';
import type { EditDraft } from './edit/state.ts';

/** What the screens need of a job, and no more: the job room serves it, tests serve a small one. */
export type JobPort = {
  readonly id: string;
  readonly dir: string;
  /** What the job looks like now; a new value after every act. */
  look(): JobLook;
  act(action: Action): Acted;
  briefing(): Briefing;
  history(filter: HistoryFilter): readonly HistoryRow[];
  /** What a correction would change, in lines, before it is adopted. */
  previewCorrection(set: readonly { path: string; value: unknown }[]): readonly string[];
  /** In a rehearsal: what meter and eyes tell at a step, each by its field. Empty at a real job. */
  meter(step: string): Readonly<Record<string, TypedValue>>;
  /** In a rehearsal: somebody goes and looks behind what does not fit at a step; what is found is put right. */
  search(step: string): readonly string[];
  /** In a rehearsal: what was found where, what is missed, how long. Empty at a real job. */
  debrief(): readonly string[];
  /** Whether the record is whole, in words that promise no more than is proved, and where its head stands. */
  chain(): readonly string[];
  readDraft(): Draft | null;
  writeDraft(draft: Draft | null): void;
  /** Goes on in another folder, with everything that was saved. */
  carryOn(into: string): JobPort;
  /** Somebody is at the keys. */
  here(): void;
  close(): void;
};

export type JobLook = {
  readonly siteName: string;
  readonly rehearsal: boolean;
  readonly plan: Plan;
  /** Every step of the job, in order. */
  readonly steps: readonly Step[];
  readonly status: Readonly<Record<string, StepStatus>>;
  readonly next: Next;
  /** For each step, every step that would reopen with it. */
  readonly dependents: ReadonlyMap<string, readonly string[]>;
  /** Until when a detector warms up, where that is known: what it reports before proves little. */
  readonly warmUntil?: Readonly<Record<string, number>>;
  /** Persons who worked here, latest first. */
  readonly persons: readonly string[];
  /** What was typed at the last try of each step, by the fields of its entry, for looking back. */
  readonly values: Readonly<Record<string, Readonly<Record<string, string>>>>;
};

/** What must be known before the first step, in the order it is read. */
export type Briefing = {
  readonly who: string | null;
  /** `2 days 4 h since the last record, by Nadia`. */
  readonly since: string;
  /** What was energised or isolated then: shown as not proved. */
  readonly wasThen: readonly string[];
  readonly warnings: readonly string[];
  /** What was given up and is otherwise than planned, a sentence each. */
  readonly notAsPlanned: readonly string[];
  readonly proveAgain: readonly string[];
  readonly lookBack: string | null;
  readonly lookAhead: string | null;
};

/** Which records are wanted: what the keys of the record ask for of all that the job can filter by. */
export type HistoryFilter = Pick<JobFilter, 'step' | 'zone' | 'person' | 'kind' | 'find'>;

export type HistoryRow = {
  readonly n: number;
  readonly at: string;
  readonly kind: string;
  readonly person: string | null;
  readonly step: string | null;
  readonly says: string;
  /** Everything in the record, in lines, and how it sits in the chain. */
  readonly detail: readonly string[];
};

/** The shelf of jobs. */
export type JobShelf = {
  /** A page of the jobs, open ones first, then those worked on last. */
  list(wanted: JobsWanted): JobsPage;
  /** Opens a job for the screens; a sentence where that cannot be. */
  open(dir: string): JobPort | string;
  /** Folders to go on in where that of a job takes no more. */
  elsewhere(dir: string): readonly string[];
  /** Goes on with a job that is damaged in another folder, after its last good record. */
  carryOn(dir: string, into: string): JobPort | string;
  /** Opens the bundled demo job, making it where there is none. */
  openDemo(): JobPort | string;
  /** What may be wrong in a building, by name and in a sentence. */
  faults(): readonly { readonly name: string; readonly says: string }[];
  /** Opens a rehearsal of a job, or of the demo where `dir` is null, on a simulated building. */
  openRehearsal(dir: string | null, wrong: Wrong): JobPort | string;
  /** Writes the documents of a job; answers where. */
  handOver(dir: string): string;
  /** The answers of a survey that was begun and not finished. */
  readSurveyDraft(): Readonly<Record<string, string>>;
  keepSurveyDraft(answers: Readonly<Record<string, string>>): void;
  /** What is wrong with a survey as far as it goes, and what the plan would find. `file`: where it stands, if it does. */
  check(text: string, file: string | null): readonly string[];
  /** Keeps a survey as a file; answers its path. The draft is then done with. */
  saveSurvey(text: string, name: string): string;
  /** The survey files beside the jobs. */
  surveys(): readonly string[];
  /** Opens a survey file to be changed, as far as it was changed already; a sentence where it cannot be read. */
  openSurveyFile(file: string): EditDraft | string;
  keepSurveyEdit(file: string, draft: EditDraft | null): void;
  /** Saves a changed survey in its file; answers where it and the earlier text stand. */
  saveSurveyEdit(file: string, original: string, text: string): { file: string; before: string | null };
  /** Opens a job on a survey's file; a sentence where that cannot be. */
  startFrom(file: string): JobPort | string;
};

/** What is wrong in the building of a rehearsal: so many faults drawn by its seed, or one that was chosen. */
export type Wrong = { readonly drawn: number } | { readonly fault: string };

/** `find`: words that all stand in a job's place, address, reference or folder; empty for all jobs. */
export type JobsWanted = { readonly page: number; readonly find: string };

export type JobsPage = JobsWanted & {
  readonly rows: readonly JobRow[];
  readonly pages: number;
  readonly found: number;
  readonly total: number;
};

export type JobRow = {
  readonly id: string;
  readonly dir: string;
  readonly site: string;
  /** Its address, as far as it is known. */
  readonly place: string;
  /** The day of the last record, as the clock on the wall had it. */
  readonly day: string;
  readonly rehearsal: boolean;
  readonly state: 'open' | 'closed' | 'unreadable';
  readonly stage: string;
  readonly done: number;
  readonly total: number;
  readonly supply: string;
  readonly last: string;
};
