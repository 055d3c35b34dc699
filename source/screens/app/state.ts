import type { Acted, Action } from '../../job/action.ts';
import type { Draft } from '../../job/draft.ts';
import type { Since } from '../../job/hearing/propose-heard.ts';
import type { Candidate, LearnedInput } from '../../live/learn.ts';
import type { Mapping } from '../../live/mapping.ts';
import type { SourceSetup } from '../../live/setup.ts';
import type { EditDraft, EditScreen } from '../edit/state.ts';
import type { Field } from '../entry/field.ts';
import type { Entry } from '../entry/state.ts';
import type { FormId } from '../form/forms.ts';
import type { Key } from '../keys/key.ts';
import type { BoardToHear } from '../live/port.ts';
import type { LiveState, Tour } from '../live/state.ts';
import type { Briefing, HistoryFilter, HistoryRow, JobLook, JobsPage, JobsWanted, Wrong } from '../port.ts';
import type { ScreenSettings } from '../settings.ts';
import type { Answers } from '../survey/question.ts';
import type { Unsaved } from '../unsaved/lost.ts';
import type { Drafts } from './drafts.ts';

/** Everything the screens know. What is on top of the stack is shown and has the keys. */
export type App = {
  readonly size: { readonly columns: number; readonly rows: number };
  readonly settings: ScreenSettings;
  readonly linear: boolean;
  readonly jobs: JobsPage;
  /** The survey files that stand beside the jobs. */
  readonly surveys: readonly string[];
  readonly job: OpenJob | null;
  readonly stack: readonly Screen[];
  /** What the last failed reading of a step may mean, until the step passes. */
  readonly causes: Readonly<Record<string, readonly Cause[]>>;
  readonly drafts: Drafts;
  readonly notice: Notice | null;
  /** What could not be saved in a job's folder, until the job goes on in another one. */
  readonly unsaved?: Unsaved | null;
  /** How the boards of the job are heard; null or not there while that was never looked at. */
  readonly live?: LiveState | null;
  readonly tour?: Tour | null;
  /** Set once the program is to end. */
  readonly exit: number | null;
};

export type OpenJob = { readonly id: string; readonly dir: string } & JobLook;

/** One sentence about what just happened, gone at the next key that does something. */
export type Notice = {
  readonly tone: 'good' | 'caution' | 'bad';
  readonly says: string;
  readonly more: readonly string[];
};

export type Cause = { readonly cause: string; readonly says: string; readonly try: string };

export type Screen =
  | JobsScreen
  | { readonly kind: 'briefing'; readonly briefing: Briefing; readonly page: number }
  | StepScreen
  | { readonly kind: 'far'; readonly step: string }
  | StepsScreen
  | { readonly kind: 'menu'; readonly menu: string }
  | FormScreen
  | DiagnosisScreen
  | {
      readonly kind: 'challenge';
      readonly action: Action;
      readonly name: string;
      readonly says: string;
      readonly entry: Entry;
    }
  | { readonly kind: 'sure'; readonly of: LastWord }
  | RehearseScreen
  | { readonly kind: 'plan'; readonly part: number; readonly at: number; readonly opened: boolean }
  | HistoryScreen
  | SurveyScreen
  | EditScreen
  | { readonly kind: 'live'; readonly page: number }
  | LearnScreen
  | TourScreen
  | { readonly kind: 'help'; readonly page: number }
  | { readonly kind: 'settings' }
  | { readonly kind: 'closed'; readonly page: number };

/** `searching`: the words that are typed to find a job. `others`: what else there is to begin, where the jobs fill the list. */
export type JobsScreen = {
  readonly kind: 'jobs';
  readonly highlighted: string | null;
  readonly searching: string | null;
  readonly others: boolean;
};

export const FIRST_SCREEN: JobsScreen = { kind: 'jobs', highlighted: null, searching: null, others: false };
/** All jobs, from the first. */
export const ALL_JOBS: JobsWanted = { page: 0, find: '' };
export const NO_JOBS: JobsPage = { ...ALL_JOBS, rows: [], pages: 1, found: 0, total: 0 };

/** `dir`: the job that is rehearsed; null for the demo. `chosen`: the fault under the pointer, once one is to be chosen. */
type RehearseScreen = {
  readonly kind: 'rehearse';
  readonly dir: string | null;
  readonly site: string;
  readonly faults: readonly { readonly name: string; readonly says: string }[];
  readonly chosen: string | null;
};

/** What is asked once more before it is done. */
export type LastWord = 'doubt' | 'quit' | 'jobs';

/** `looking`: a step that is only looked at, not worked on. */
export type StepScreen = {
  readonly kind: 'step';
  readonly step: string | null;
  readonly entry: Entry;
  readonly looking: string | null;
  readonly page: number;
  /** What is heard from here on counts for it. */
  readonly heardFrom?: Since;
};

/** Two inputs of a board, how far the one in hand is held, and what was picked for the first. */
type LearnScreen = {
  readonly kind: 'learn';
  readonly board: string;
  readonly inputs: readonly [string, string];
  readonly phase: number;
  readonly picked: Candidate | null;
};

/** `at`: the line in hand. */
type TourScreen = {
  readonly kind: 'tour';
  readonly at: number;
  readonly asking: 'all' | 'this' | null;
};

/** `at`: the row in hand; null for the last one. `done`: to choose one that is done again. */
export type StepsScreen = {
  readonly kind: 'steps';
  readonly at: number | null;
  readonly show: 'open' | 'all' | 'done';
};

/** `stands`: the step is recorded as done all the same, and may be read again. */
export type DiagnosisScreen = {
  readonly kind: 'diagnosis';
  readonly step: string;
  readonly causes: readonly Cause[];
  readonly stands: boolean;
  readonly page: number;
};

export type FormScreen = {
  readonly kind: 'form';
  readonly form: FormId;
  readonly step: string | null;
  readonly entry: Entry;
  readonly preview: readonly string[];
  readonly page: number;
};

export type HistoryScreen = {
  readonly kind: 'history';
  readonly filter: HistoryFilter;
  readonly rows: readonly HistoryRow[];
  readonly at: number;
  readonly opened: boolean;
  readonly page: number;
  /** The words being searched for, while they are typed. */
  readonly searching: string | null;
};

/** A survey while it is put together. `at`: the question gone back to; null where the first open one is asked. */
export type SurveyScreen = {
  readonly kind: 'survey';
  readonly answers: Answers;
  readonly at: string | null;
  readonly typed: string;
  readonly says: string | null;
  /** What the plan would find, as far as the survey goes. */
  readonly findings: readonly string[];
};

export type AppEvent =
  | { readonly type: 'key'; readonly key: Key }
  | { readonly type: 'resized'; readonly columns: number; readonly rows: number }
  | { readonly type: 'picked'; readonly value: string }
  | { readonly type: 'highlighted'; readonly value: string }
  | { readonly type: 'line'; readonly value: string }
  | { readonly type: 'jobs'; readonly jobs: JobsPage; readonly surveys: readonly string[] }
  | {
      readonly type: 'opened';
      readonly job: OpenJob;
      readonly briefing: Briefing;
      readonly draft: Draft | null;
    }
  | { readonly type: 'acted'; readonly action: Action; readonly acted: Acted; readonly job: OpenJob }
  | { readonly type: 'history'; readonly filter: HistoryFilter; readonly rows: readonly HistoryRow[] }
  | { readonly type: 'preview'; readonly lines: readonly string[] }
  | { readonly type: 'survey'; readonly answers: Answers }
  | { readonly type: 'rehearse'; readonly screen: RehearseScreen }
  | { readonly type: 'editing'; readonly file: string; readonly draft: EditDraft }
  | { readonly type: 'checked'; readonly findings: readonly string[] }
  | { readonly type: 'survey-saved'; readonly file: string; readonly before: string | null }
  | { readonly type: 'form-done' }
  | { readonly type: 'live'; readonly news: Partial<LiveState> }
  | { readonly type: 'told'; readonly says: string; readonly more: readonly string[] }
  | { readonly type: 'trouble'; readonly says: string }
  /** The folder takes no more records. `action`: what was to be recorded. */
  | {
      readonly type: 'not-saved';
      readonly dir: string;
      readonly action: Action | null;
      readonly offers: readonly string[];
    }
  | { readonly type: 'carried-on'; readonly job: OpenJob };

/** What is to be done outside; its answer comes back as an event. */
export type Effect =
  | { readonly do: 'list-jobs'; readonly wanted: JobsWanted }
  | { readonly do: 'open-job'; readonly dir: string }
  | { readonly do: 'open-demo' }
  | { readonly do: 'offer-rehearsal'; readonly dir: string | null; readonly site: string }
  | { readonly do: 'open-rehearsal'; readonly dir: string | null; readonly wrong: Wrong }
  | { readonly do: 'hand-over'; readonly dir: string }
  | { readonly do: 'meter'; readonly step: string; readonly field: Field }
  | { readonly do: 'search'; readonly step: string }
  | { readonly do: 'debrief' }
  | { readonly do: 'live-look' }
  | { readonly do: 'live-source'; readonly source: SourceSetup | string }
  | { readonly do: 'live-map'; readonly board: string; readonly mapping: Mapping }
  | { readonly do: 'listen'; readonly boards: readonly BoardToHear[] }
  | { readonly do: 'stop-listening' }
  | { readonly do: 'learn-hold'; readonly state: 'open' | 'closed' | null }
  | { readonly do: 'learn-candidates'; readonly input: LearnedInput }
  | { readonly do: 'bell' }
  | { readonly do: 'chain' }
  | { readonly do: 'carry-on'; readonly dir: string; readonly into: string }
  | { readonly do: 'act'; readonly action: Action }
  | { readonly do: 'draft'; readonly draft: Draft | null }
  | { readonly do: 'history'; readonly filter: HistoryFilter }
  | { readonly do: 'preview'; readonly set: readonly { path: string; value: unknown }[] }
  | { readonly do: 'new-survey' }
  | { readonly do: 'edit-survey'; readonly file: string }
  | { readonly do: 'keep-edit'; readonly file: string; readonly draft: EditDraft | null }
  | {
      readonly do: 'save-edit';
      readonly file: string;
      readonly original: string;
      readonly text: string;
      readonly open: boolean;
    }
  | { readonly do: 'keep-survey'; readonly answers: Answers }
  | { readonly do: 'check-survey'; readonly text: string; readonly file: string | null }
  | { readonly do: 'finish-survey'; readonly text: string; readonly name: string; readonly open: boolean }
  | { readonly do: 'save-settings'; readonly settings: ScreenSettings };

export type Turn = readonly [App, readonly Effect[]];

/** The screen that has the keys. */
export function top(app: App): Screen {
  return app.stack.at(-1)!;
}

/** With another screen in place of the one that has the keys. */
export function withTop(app: App, screen: Screen): App {
  return { ...app, stack: [...app.stack.slice(0, -1), screen] };
}

/** With a screen on top of the one that had the keys. */
export function push(app: App, screen: Screen): App {
  return { ...app, stack: [...app.stack, screen] };
}

/** One screen back; the lowest one stays. */
export function pop(app: App): App {
  return app.stack.length > 1 ? { ...app, stack: app.stack.slice(0, -1) } : app;
}
