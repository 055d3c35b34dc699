import type { Act } from '../wiring/act.ts';
import type { Wiring } from '../wiring/wiring.ts';
import type { StopCode } from './stop-table.ts';

/** The fifteen stages, in the order of the job. */
export const STAGES = [
  'survey',
  'plan',
  'prepare',
  'notify',
  'power-down',
  'label',
  'measure',
  'resistors',
  'split',
  'clear',
  'mount',
  'rewire',
  'power-up',
  'walk-test',
  'handover',
] as const;
export type Stage = (typeof STAGES)[number];

/** What the supply of the old and new system is known to be. `unproven`: was dead, must be proved again. */
export type SupplyState = 'live' | 'isolating' | 'dead' | 'unproven' | 'energised';
export type SupplyNeed = 'any' | 'isolating' | 'dead' | 'energised';

/**
 * One card: what one `confirm` confirms and one record keeps. Plain JSON, for the steps of a job are stored
 * in its journal and never made again by a later version.
 */
export type Step = {
  readonly id: string;
  readonly stage: Stage;
  /** One action, imperative. */
  readonly title: string;
  readonly why: string;
  readonly cautions: readonly Caution[];
  readonly acts: readonly Act[];
  /** What the supply must be known to be while it is done. */
  readonly needs: SupplyNeed;
  /** Step ids that must be done (or deviated from, where soft) before this one opens. */
  readonly waitsFor: readonly string[];
  readonly proof: readonly Proof[];
  /** Never to be deviated from. One that is not hard may be given up, with a reason and the risk that remains, by name. */
  readonly hard: boolean;
  /** Offered again whenever it is called for, as isolating and proving are; it is never settled, and never reopened. */
  readonly repeatable: boolean;
  /** What a pass does to the supply state. */
  readonly effect: null | 'isolate' | 'prove' | 'prove-short' | 'energise';
  /** Branches under which the step exists: it is excluded unless, for each, one of the options was chosen. */
  readonly onlyIf: readonly { readonly step: string; readonly options: readonly string[] }[];
  /** Zones, detectors, conductors and circuits it is about, for history and reopening. */
  readonly about: readonly string[];
};

/** Shown directly above the action, never containing it. `source` is a short published reference. */
export type Caution = { readonly id: string; readonly text: string; readonly source: string };

export type Proof = (ReadingProof | SweepProof | ChoiceProof | TextProof | ObservationProof) & Placed;

/** Where in the card it stands: how many of the card's acts come before it; all of them where that is not said. */
type Placed = { readonly after?: number };

export type ReadingProof = {
  readonly field: string;
  readonly kind: 'reading';
  readonly of: 'ohms' | 'volts-dc' | 'volts-ac' | 'amps';
  readonly unit: 'ohm' | 'V' | 'A';
  /** What is asked, in a few words: `white of c1 to brown of c1`. */
  readonly label: string;
  /** Expected window; null where only an open circuit is expected. */
  readonly min: number | null;
  readonly nominal: number | null;
  readonly max: number | null;
  /** What may stand without stopping the work; null: nothing is judged. `max: null` is no upper limit. */
  readonly usable: { readonly min: number; readonly max: number | null } | null;
  readonly open: 'must' | 'may' | 'no';
  readonly between: readonly [string, string];
  readonly with: Readonly<Record<string, 'rest' | 'active' | 'unpowered'>>;
  /** True where an unusable value may mean danger, so that it stops the work although no input is concerned. */
  readonly danger: boolean;
  /** The plan's measuring point behind it, for diagnosis. */
  readonly point: string | null;
  /**
   * Asked for only where that sweep met more than this and no more than that: the reading at low input impedance. Or
   * where that input did not show what it should: what tells the causes apart.
   */
  readonly when?:
    | { readonly sweep: string; readonly above: number; readonly upTo: number }
    | { readonly seen: string; readonly not: 'open' | 'closed' };
  /** Not asked for once one of these answers of the card met more: an ohmmeter on a live pair lies, and takes harm. */
  readonly unless?: readonly { readonly field: string; readonly above: number }[];
  /** The faults that it is there to catch, with what each gives at its mildest, in the unit: never among what may stand. */
  readonly catches?: readonly { readonly fault: string; readonly gives: number }[];
  /** What it means where it is not usable. */
  readonly follows?: string;
  /** The same instrument on the same source must say the same again, within this fraction. */
  readonly agreesWith?: { readonly field: string; readonly within: number };
};

export type SweepProof = {
  readonly field: string;
  readonly kind: 'sweep';
  readonly of: 'volts-dc' | 'volts-ac' | 'ohms';
  readonly unit: 'V' | 'ohm';
  readonly label: string;
  readonly min: number;
  readonly max: number;
  readonly points: readonly string[];
  /**
   * It goes over every place of the panel side as it is when the card is read, these rails first; against what, with
   * the old panel and without. Its points are the rails alone until it is presented: so a card that is stored says nothing of
   * wires, and a correction of one loop leaves the proof of dead in force.
   */
  readonly tour?: {
    readonly rails: readonly string[];
    readonly against: { readonly panel: string; readonly panelGone: string };
  };
  /** Where more than `max` was met: the reading that tells an induced voltage from a real one. */
  readonly rereadAs?: string;
  /** Above this nothing is read again: the work stops. */
  readonly stopAbove?: number;
  /** Points kept live on purpose under a choice: named, tagged, insulated, and left out by name. */
  readonly except?: readonly {
    readonly step: string;
    readonly option: string;
    readonly points: readonly string[];
  }[];
};

export type ChoiceProof = {
  readonly field: string;
  readonly kind: 'choice';
  readonly label: string;
  readonly options: readonly {
    readonly id: string;
    readonly label: string;
    readonly leads: 'pass' | 'fail' | 'branch';
    /** Of an answer that does not pass: what follows from it. */
    readonly follows?: string;
    /** Of an answer that stops the work: why, in the table of stops. */
    readonly stops?: StopCode;
    /** Of one that passes although some of what the card does was left undone: those acts, by name. */
    readonly leaves?: readonly string[];
  }[];
};

/** `offers`: the usual answers to pick from, so that a numeric keypad suffices. */
export type TextProof = {
  readonly field: string;
  readonly kind: 'text';
  readonly label: string;
  readonly minLength: number;
  readonly offers: readonly string[];
  readonly numeric: boolean;
  /** What kind of answer it must be; any words where it is not said. */
  readonly check?: TextCheck;
  /** It asks for a person: a name is kept beside the record, which knows an id alone. */
  readonly asksWho?: true;
};

/**
 * A time; a count, the same as the survey's where that has one; photographs, at least one or why there are none; the
 * number on a label, which no other label bears.
 */
type TextCheck =
  | { readonly is: 'time' | 'photographs' | 'label' }
  | { readonly is: 'count'; readonly survey: number | null };

export type ObservationProof = {
  readonly field: string;
  readonly kind: 'observation';
  readonly label: string;
  readonly board: string;
  readonly input: string;
  readonly detector: string;
  readonly expect: 'open' | 'closed';
};

/** What the plan yields for a job: its steps in order and the policy the machine needs. Plain JSON. */
export type Procedure = {
  readonly steps: readonly Step[];
  readonly interruptionSeconds: number;
  /** The wiring before anything was touched; absent in jobs that were opened before it was kept. */
  readonly found?: Wiring;
  /** Every old and new conductor: what a full proof must cover while not yet landed. */
  readonly conductors: readonly string[];
  /** True where the plan is blocked: only making safe, notes and corrections are possible. */
  readonly blocked: boolean;
  /** True while only what can be seen from outside has been surveyed: such a job is corrected, never closed. */
  readonly incomplete: boolean;
  /** True where mains is or may be inside the enclosure: an electrician's record comes before it is opened. */
  readonly mainsFed: boolean;
  /** Conductors of life-safety circuits, which no step moves, and those that share a screw, core or feed with them. */
  readonly lifeSafety: { readonly conductors: readonly string[]; readonly shared: readonly string[] };
};
