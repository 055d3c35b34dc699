import type { ContactSense } from '../electrical/loop.ts';
import type { CoreUse } from './survey.ts';

/**
 * A place where conductors meet. `old:8` a screw of the old panel; `join:z1.1` a splice at the panel;
 * `field:...` a splice or terminal out in the building where a daisy chain goes on; `post:shutter.a` a
 * detector's own terminal; `end:c3/4` a loose end.
 */
export type NodeId = string;

/** One conductor of one cable as found, both ends. `near` is the end towards the panel. */
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
  /** The old screw it belongs to, also where a resistor or splice sits between; null in mid air or spare. */
  readonly screw: string | null;
  /** False for a cable that goes on from another cable's far end: it has no end at the panel. */
  readonly atPanel: boolean;
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
};

export type FittedContact = {
  readonly detector: string;
  readonly zone: string;
  readonly purpose: 'alarm' | 'tamper';
  readonly sense: ContactSense | 'unknown';
  readonly a: NodeId;
  readonly b: NodeId;
};

export type FittedLoad = { readonly device: string; readonly positive: NodeId; readonly negative: NodeId };

/**
 * The wiring as found: what plan, drawings and simulated building all start from. Every conductor of every
 * cable of the survey is in it exactly once.
 */
export type Wiring = {
  readonly conductors: readonly WiredConductor[];
  readonly resistors: readonly FittedResistor[];
  readonly contacts: readonly FittedContact[];
  readonly loads: readonly FittedLoad[];
  /** The two nodes of each zone or tamper loop at the panel, in the order of its terminals. */
  readonly loops: Readonly<Record<string, readonly [NodeId, NodeId]>>;
};
