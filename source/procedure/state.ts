import type { SupplyState } from './step.ts';
import type { StopCode } from './stop-table.ts';

export type StepStatus = 'open' | 'begun' | 'done' | 'failed' | 'deviated' | 'excluded' | 'unknown';
export type Sitting = 'none' | 'screens' | 'act';
export type Owed = 'none' | 'short' | 'full';

/** Everything the machine knows, and nothing else: no values, times, counts or texts. */
export type JobContext = {
  /** For each step, in procedure order. */
  readonly status: Readonly<Record<string, StepStatus>>;
  /** The option chosen at each branching choice. */
  readonly branches: Readonly<Record<string, string>>;
  readonly person: string | null;
  readonly sitting: Sitting;
  /** What stopped the work and is not answered yet, by the step whose pass opens the way again. */
  readonly stops: Readonly<Record<string, StopCode>>;
  /** The proof that makes `unproven` `dead` again. */
  readonly owed: Owed;
};

export type JobState = {
  readonly supply: SupplyState;
  readonly job: 'open' | 'closed';
  readonly context: JobContext;
};

/** What interrupted a sitting, and so put the supply in doubt. */
export type InterruptedWhy =
  | 'new-sitting'
  | 'person'
  | 'gap'
  | 'clock'
  | 'boot'
  | 'powered-test'
  | 'conductors-added';

export type JobEvent =
  | { readonly type: 'begin'; readonly step: string }
  | {
      readonly type: 'confirm';
      readonly step: string;
      readonly verdict: 'passed' | 'failed' | 'recorded';
      readonly option: string | null;
      /** Of one that failed by an answer that stops the work; records of earlier versions do not say it. */
      readonly stop?: StopCode;
    }
  | { readonly type: 'fail'; readonly step: string }
  | { readonly type: 'deviate'; readonly step: string }
  | { readonly type: 'reopen'; readonly step: string }
  | { readonly type: 'start-shift'; readonly person: string; readonly sitting: Sitting }
  | { readonly type: 'interrupted'; readonly why: InterruptedWhy; readonly sitting: Sitting }
  | { readonly type: 'doubt' }
  | { readonly type: 'pause' }
  | { readonly type: 'leave' }
  | { readonly type: 'close' };

/** Why something may not be done now: one stable code, and the sentence that says what opens it. */
export type Reason = { readonly code: string; readonly says: string };
