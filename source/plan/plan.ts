import type { Cause } from '../electrical/causes.ts';
import type { Interval } from '../electrical/interval.ts';
import type { ContactState, ContactStates, Expression } from '../electrical/loop.ts';
import type { Board } from '../site/board.ts';
import type { Assumed, Survey } from '../site/survey.ts';
import type { Act, FitResistor } from '../wiring/act.ts';
import type { NodeId, Wiring } from '../wiring/wiring.ts';
import type { FindingCode } from './finding-codes.ts';

/**
 * Whether and how the boards take the site: everything the procedure, the screens and the documents are
 * built from. A pure function of survey and boards.
 */
export type Plan = {
  readonly survey: Survey;
  readonly boards: readonly Board[];
  readonly wiring: Wiring;
  readonly verdict: 'ready' | 'caution' | 'blocked';
  readonly findings: readonly Finding[];
  readonly circuits: readonly Circuit[];
  readonly zones: readonly ZonePlan[];
  readonly heldOut: readonly HeldOut[];
  readonly supply: readonly BoardSupply[];
  readonly connections: readonly Connection[];
  readonly terminals: readonly TerminalUse[];
  readonly grouping: Grouping;
  readonly work: Work;
  readonly points: readonly MeasuringPoint[];
  /** `for`: what each of them is for, as many as there are: conductors, screws, joints, inputs. */
  readonly parts: readonly {
    readonly item: string;
    readonly count: number;
    readonly for: readonly string[];
  }[];
  readonly assumed: readonly Assumed[];
};

export type Severity = 'block' | 'gate' | 'caution' | 'note';

export type Finding = {
  readonly code: FindingCode;
  readonly severity: Severity;
  /** Ids of what it is about: detector, zone, cable, board ... */
  readonly about: readonly string[];
  /** One sentence of what is so and one of what to do. */
  readonly message: string;
  readonly figures: Readonly<Record<string, number | string>>;
};

/** What a reading may be. A window in ohms, or "open". */
export type OhmsWindow = {
  /** As computed, meter error included. `open: must` where only an open circuit fits. */
  readonly expected: { readonly min: number; readonly nominal: number; readonly max: number } | 'open' | null;
  /** What the new input can live with; null where no input is concerned yet. */
  readonly usable: { readonly min: number; readonly max: number } | null;
};

export type Circuit = {
  readonly board: string;
  readonly input: string;
  readonly terminal: string;
  readonly common: string;
  readonly contact: 'normally-closed' | 'normally-open' | 'unknown';
  readonly detectors: readonly string[];
  /** Zone or tamper loop it comes from. */
  readonly fromZone: string;
  readonly purpose: 'detection' | 'tamper';
  readonly split: boolean;
  readonly resistor: ResistorWork;
  /** The same for every old zone on this input, by zone: more than one only where the survey lets them share. */
  readonly resistors: Readonly<Record<string, ResistorWork>>;
  readonly expression: Expression;
  readonly rest: OhmsWindow;
  /** Per detector worked alone, the others at rest. */
  readonly active: Readonly<Record<string, OhmsWindow>>;
  readonly unpowered: OhmsWindow | null;
  readonly margin: { readonly closedOhms: number; readonly openOhms: number };
  /**
   * What the currents of other inputs lift its return by at most, where they share one: with each detector worked that
   * closes it, or at `rest`.
   */
  readonly returnRiseVolts: Readonly<Record<string, number>>;
  /** What a resistor left in place would make the input read; null where there is none. */
  readonly ifResistorLeft: 'closed' | 'open' | 'between' | null;
};

export type ResistorWork = {
  readonly work: 'remove' | 'keep' | 'replace' | 'fit' | 'none';
  readonly ohms: number | null;
  readonly at: 'panel' | 'unknown' | { readonly detector: string } | null;
  readonly newOhms: number | null;
  /** What each contact gets as well where the board supervises with two resistors. */
  readonly newAlarmOhms?: number;
};

/** One resistor that is there today, and what becomes of it. */
export type FittedWork = {
  /** As in {@link Wiring.resistors}. */
  readonly id: string;
  readonly role: 'end-of-line' | 'alarm' | 'bridge';
  readonly ohms: number | 'unknown';
  readonly at: 'panel' | 'unknown' | { readonly detector: string };
  readonly work: 'remove' | 'keep' | 'replace';
  readonly newOhms: number | null;
};

export type ZonePlan = {
  readonly id: string;
  readonly lift: { readonly terminal: string; readonly conductors: readonly string[] };
  /** Joins at the panel that are parted, by node id, with the conductors in each. */
  readonly joins: readonly {
    readonly id: string;
    readonly conductors: readonly string[];
    readonly part: boolean;
  }[];
  readonly resistor: ResistorWork;
  /** Every resistor of the zone by itself: two-resistor and bridged loops have one at each detector. */
  readonly fitted: readonly FittedWork[];
  readonly supervisionLost: string | null;
};

/** What hands do to the wiring, in the order of the stages; nothing else is said of it anywhere. */
export type Work = {
  readonly zones: Readonly<
    Record<
      string,
      {
        /** Its leg off, so that its loop can be read. */
        readonly lift: readonly Act[];
        /** At the panel and at the detectors; what goes in at an input waits for the input. */
        readonly resistors: readonly Act[];
        readonly part: readonly Act[];
      }
    >
  >;
  /**
   * What frees each conductor that is still on the old panel by then, and insulates it where it stays so: off its screw,
   * out of its splice, a resistor off it first. Nothing for one that is free already, and goes somewhere.
   */
  readonly clear: Readonly<Record<string, readonly Act[]>>;
  /** Resistors that hang on the panel's screws alone, taken off before it goes. */
  readonly leftOnPanel: readonly Act[];
  readonly links: readonly Extract<Act, { do: 'link' }>[];
  /** Resistors that go in at an input, by `board/input`, before its wires are landed. */
  readonly inputs: Readonly<Record<string, readonly FitResistor[]>>;
  /** Where each conductor that moves is landed: a terminal, a joint, or the free leg of a resistor at a terminal. */
  readonly landings: Readonly<Record<string, NodeId>>;
};

export type HeldOut = {
  readonly detector: string;
  readonly reason: 'life-safety' | 'emergency-keys' | 'shares-life-safety';
};

/**
 * Where a meter is held and what it must then read. The plan alone knows the neighbours that could be
 * behind a wrong reading, so the suspects come with the point.
 */
export type MeasuringPoint = {
  /** `found.z1.rest`, `lifted.z1.rest`, `bare.z1.rest` (resistor out), `split.shutter.rest`, `landed.b1/1.rest` ... */
  readonly id: string;
  readonly phase: 'found' | 'lifted' | 'resistor-out' | 'split' | 'landed';
  readonly zone: string;
  readonly circuit: { readonly board: string; readonly input: string } | null;
  readonly between: readonly [string, string];
  readonly with: ContactStates;
  /** False where a contact on it needs supply and so proves nothing while dead. */
  readonly judgesContact: boolean;
  readonly expression: Expression;
  readonly window: OhmsWindow;
  readonly suspects: readonly Suspect[];
};

/** Another thing that could stand between the meter leads. */
export type Suspect = {
  readonly cause: Cause;
  readonly says: string;
  readonly try: string;
  readonly expression: Expression;
  readonly states: ContactStates;
  /** How often it is met beside the others; 1 where not given. */
  readonly weight?: number;
};

/** What arrives at something over cables, nominal copper but where it is said otherwise. */
export type SounderSupply = {
  readonly id: string;
  readonly minimumVolts: number;
  readonly mainsVolts: number;
  /** Equals `mainsVolts` where the board has no battery. */
  readonly batteryEndVolts: number;
  /** The lower of the two with the longest cable, the worst copper and the greatest current. */
  readonly worstVolts: number;
  /** The lower of the two at the favourable bound of what is assumed. */
  readonly bestVolts: number;
};

export type DeviceSupply = SounderSupply & {
  readonly maximumVolts: number;
  /** The most it may get. */
  readonly highestVolts: number;
  /** Expected on the day, standby, from the nominal source. */
  readonly now: Interval;
  readonly assumed: readonly string[];
};

export type BoardSupply = {
  readonly board: string;
  readonly standbyAmps: number;
  readonly alarmAmps: number;
  readonly auxAmps: number;
  readonly sounderAmps: number;
  readonly limitAmps: number;
  readonly devices: readonly DeviceSupply[];
  readonly sounders: readonly SounderSupply[];
  /** The detector that is short of voltage first as the battery ends; null without any. */
  readonly firstToFail: string | null;
  readonly battery: null | {
    readonly requiredAmpHours: number;
    readonly chosenAmpHours: number;
    readonly holdUpHours: number;
    /** `Infinity` where the adapter cannot bring it to its float voltage. */
    readonly rechargeHours: number;
  };
};

export type Connection = {
  readonly conductor: string;
  readonly colour: string;
  readonly from: { readonly terminal: string } | { readonly join: string } | { readonly loose: true };
  readonly to:
    | { readonly board: string; readonly terminal: string }
    | { readonly joint: string }
    | { readonly stays: string }
    | { readonly parked: true };
  readonly by: 'direct' | 'splice' | 'pigtail' | 'block' | 'extension' | 'parked' | 'untouched';
};

export type TerminalUse = {
  readonly board: string;
  readonly terminal: string;
  readonly conductors: readonly string[];
  readonly allowed: number;
  /** How many of the first stand under the screw themselves; the others come over the remedy. */
  readonly direct: number;
  readonly remedy: 'pigtail' | 'block' | 'none';
};

export type Grouping = {
  readonly loss: number;
  readonly optimal: boolean;
  readonly bound: number;
  readonly inputsUsed: number;
  readonly inputsFree: number;
  readonly groups: readonly {
    readonly zone: string;
    readonly detectors: readonly string[];
    readonly board: string;
    readonly input: string;
  }[];
};

export type { ContactState };
