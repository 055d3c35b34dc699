import type { Caution, Proof, Stage, SupplyNeed, SupplyState } from '../procedure/step.ts';
import type { StopCode } from '../procedure/stop-table.ts';
import type { Act } from '../wiring/act.ts';
import type { SaidOfAct } from './acts-done.ts';
import type { HeardAnswer } from './hearing/hearing.ts';

/** What `loopward act` takes: exactly what the screens do. `by` names the person (`p1` or a name). */
export type Action = { readonly by?: string; readonly acknowledge?: readonly string[] } & (
  | { readonly do: 'start-shift'; readonly name: string; readonly instrument: string; readonly zero?: string }
  | { readonly do: 'begin'; readonly step: string }
  | {
      readonly do: 'confirm';
      readonly step: string;
      readonly values: Readonly<Record<string, TypedValue>>;
      /** What the program heard of the board, by field: kept beside what the person confirms. */
      readonly heard?: Readonly<Record<string, HeardAnswer>>;
    }
  | { readonly do: 'fail'; readonly step: string; readonly reason: string }
  | {
      readonly do: 'deviate';
      readonly step: string;
      readonly reason: string;
      readonly residualRisk: string;
      /** How each act of the step went, by its key; of one that is left out nobody can say. */
      readonly acts?: readonly SaidOfAct[];
    }
  | { readonly do: 'reopen'; readonly step: string; readonly reason: string }
  | {
      readonly do: 'correct';
      readonly reason: string;
      readonly set: readonly { readonly path: string; readonly value: unknown }[];
      /** What was seen, and where: asked for where the correction takes a gate away. */
      readonly seen?: string;
    }
  | { readonly do: 'doubt' }
  | { readonly do: 'away'; readonly where: string; readonly forTime: string }
  | { readonly do: 'pause'; readonly reason: string }
  | { readonly do: 'leave'; readonly values: Readonly<Record<string, TypedValue>> }
  | { readonly do: 'note'; readonly text: string; readonly step?: string }
  | { readonly do: 'photo'; readonly path: string; readonly step?: string }
  | { readonly do: 'close'; readonly signatures: readonly { readonly name: string; readonly role: string }[] }
);

/** As typed: a reading, an option id, a text, `open`/`closed`/`nothing`, or a sweep. */
export type TypedValue = string | { readonly greatest: string; readonly at: string; readonly points: number };

/** `loopward/next@1`. */
export type Next = {
  readonly format: 'loopward/next@1';
  readonly job: string;
  readonly rehearsal: boolean;
  readonly closed: boolean;
  readonly stage: Stage;
  readonly supply: SupplyState;
  /** `p1` ...; the name behind it stands in `private.json` and may have been erased. */
  readonly person: string | null;
  readonly personName: string | null;
  readonly done: number;
  readonly total: number;
  readonly doneSteps: readonly string[];
  readonly warnings: readonly string[];
  /** What has stopped the work and is not answered, the gravest first; left out where nothing has. */
  readonly stops?: readonly {
    readonly code: StopCode;
    /** The step whose pass opens the way again. */
    readonly opener: string;
    readonly says: string;
  }[];
  /** The step that comes before all others: it answers what stopped everything, or met more than 50 V. */
  readonly handsOff?: string;
  readonly closeNeeds: readonly string[];
  /** What `leave` asks; any of it may be left unsaid, and stays a warning then. */
  readonly leaveNeeds: readonly Proof[];
  readonly open: readonly OpenStep[];
  readonly locked: readonly {
    readonly id: string;
    readonly waitingFor: readonly string[];
    readonly says: string;
  }[];
  /** What is not as planned, of what is settled; left out where all is. */
  readonly differs?: readonly Differs[];
  /** Sources of power that are live, or that nobody took off; left out in a job of before acts were recorded. */
  readonly live?: readonly string[];
  /** The step that comes once the first open one has passed. */
  readonly after?: string | null;
};

/** One thing that is not as planned: what is so, why, by whom, at what risk, and the record that says so. */
export type Differs = {
  readonly what: string;
  readonly why: string | null;
  readonly by: string | null;
  readonly risk: string | null;
  readonly record: number | null;
};

export type OpenStep = {
  readonly id: string;
  readonly stage: Stage;
  readonly title: string;
  readonly why: string;
  /** Sentences in JSON output; the screens take the source from {@link Caution}. */
  readonly cautions: readonly string[];
  readonly needs: SupplyNeed;
  readonly hard: boolean;
  readonly repeatable: boolean;
  /** `key`: by which `deviate` names it. */
  readonly acts: readonly (Act & { readonly key?: string })[];
  readonly proof: readonly Proof[];
};

/** `loopward/acted@1`. */
export type Acted =
  | {
      readonly format: 'loopward/acted@1';
      readonly outcome: 'passed' | 'failed' | 'recorded';
      readonly records: readonly number[];
      /** Likeliest first; those of one `rank`, from 1, cannot be told apart by what was answered. */
      readonly causes: readonly {
        readonly cause: string;
        readonly says: string;
        readonly try: string;
        readonly rank?: number;
      }[];
      /** What does not pass, answer by answer, and what follows from it; left out where all passes. */
      readonly told?: readonly string[];
      /** Of `close` and `leave`: what is kept outside, so that the record can be proved whole later: `COUNT:DIGEST`. */
      readonly head?: string;
      readonly next: Next;
    }
  | {
      readonly format: 'loopward/acted@1';
      readonly refused: string;
      readonly records: readonly number[];
      readonly because: readonly string[];
      readonly next: Next;
    }
  | {
      readonly format: 'loopward/acted@1';
      readonly challenge: string;
      readonly says: string;
      readonly next: Next;
    }
  | { readonly format: 'loopward/acted@1'; readonly malformed: string };

export type { Caution };
