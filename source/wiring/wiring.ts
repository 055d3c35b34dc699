import type { Interval } from '../electrical/interval.ts';
import type { ContactSense } from '../electrical/loop.ts';

/**
 * A place where things are seen joined: under one screw, in one splice, on one terminal. `old:8` a screw of the old
 * panel; `join:z1.1` a splice at the panel; `field:...` a splice or terminal out in the building where a daisy chain
 * goes on; `post:shutter.a` a detector's own terminal; `end:c3/4` an end that was loose when it was found;
 * `lifted:old:8` what came off a screw together; `c3/4` an end by itself since; `b1:I1` a board's terminal;
 * `joint:b1/1.1` a new joint; `unknown:c3/4` a place that nobody knows.
 */
export type NodeId = string;

/** What a core of a cable is used for. */
export type CoreUse =
  | 'loop'
  | 'common'
  | 'tamper'
  | 'aux-positive'
  | 'aux-negative'
  | 'sounder-positive'
  | 'sounder-negative'
  | 'hold-off'
  | 'trigger'
  | 'strobe'
  | 'tamper-return'
  | 'keypad'
  | 'telephone'
  | 'data'
  | 'screen'
  | 'doubled'
  | 'spare'
  | 'other';

/** One conductor of one cable, with the places of both ends. `near` is the end towards the panel. */
export type WiredConductor = {
  readonly id: string;
  readonly cable: string;
  readonly number: number;
  readonly colour: string;
  readonly use: CoreUse;
  /** What it serves: a detector, sounder, keypad ... or null. */
  readonly for: string | null;
  readonly zone: string | null;
  readonly near: NodeId;
  readonly far: NodeId;
  /** The old screw it belonged to as found, also where a resistor or splice sat between; null in mid air or spare. */
  readonly screw: string | null;
  /** False for a cable that goes on from another cable's far end: it has no end at the panel. */
  readonly atPanel: boolean;
  /** One way, in Ω. */
  readonly ohms: Interval;
};

export type FittedResistor = {
  readonly id: string;
  readonly zone: string;
  readonly ohms: number | 'unknown';
  readonly role: 'end-of-line' | 'alarm' | 'bridge';
  readonly a: NodeId;
  readonly b: NodeId;
  /** `null`: nobody knows where it sits. */
  readonly place: 'panel' | { readonly detector: string } | null;
  /** How it is set: a part with two legs, or a jumper inside the detector. */
  readonly by: 'part' | 'jumper';
  /** Fitted in this work, not found. */
  readonly isNew?: true;
};

export type FittedContact = {
  readonly detector: string;
  readonly zone: string;
  readonly purpose: 'alarm' | 'tamper';
  readonly sense: ContactSense | 'unknown';
  readonly a: NodeId;
  readonly b: NodeId;
  /** Ω while closed. */
  readonly closed: Interval;
  /** How it stands without supply; null for a contact that needs none. */
  readonly unpowered: 'open' | 'closed' | 'unknown' | null;
};

export type FittedLoad = { readonly device: string; readonly positive: NodeId; readonly negative: NodeId };

/** A piece of metal between two places: a jumper that is set through, a link between commons, the tail of a splice. */
export type Link = {
  readonly id: string;
  readonly a: NodeId;
  readonly b: NodeId;
  readonly kind: 'jumper' | 'wire';
};

/**
 * What is joined to what, at one moment of the work: as found, as it is now, as planned or as left. Plain data: the
 * acts of a card lead from one to the next (see `actOn`), and every expected reading is read from one
 * (see `readBetween`). Every conductor of every cable of the survey is in it exactly once.
 */
export type Wiring = {
  readonly conductors: readonly WiredConductor[];
  readonly resistors: readonly FittedResistor[];
  readonly contacts: readonly FittedContact[];
  readonly loads: readonly FittedLoad[];
  readonly links: readonly Link[];
  /** Sources that were taken off, by name, and have not been put back. */
  readonly isolated: readonly string[];
  /** Boards that stand in their place, so that their terminals are there to land on. */
  readonly mounted: readonly string[];
  /** What was taken away whole: the old panel, a keypad. */
  readonly removed: readonly string[];
  /** The two nodes of each zone or tamper loop at the panel, in the order of its terminals, as found. */
  readonly loops: Readonly<Record<string, readonly [NodeId, NodeId]>>;
};
