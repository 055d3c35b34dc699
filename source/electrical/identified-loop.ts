import type { Interval } from './interval.ts';

type IdentifiedStyle = 'plain' | 'series' | 'across' | 'mixed' | 'two-resistor' | 'bridged';

/** What was read of an unknown loop. Infinity ohms is an open circuit. */
export type LoopReadings = {
  readonly restOhms: number;
  /** With each detector worked alone, the others at rest. */
  readonly activeOhms?: readonly number[];
  /** With a cover off. */
  readonly tamperOhms?: number;
  /** At rest, the wires that leave for the field alone, without what sits at the panel. */
  readonly fieldOhms?: number;
  /** Of the cable, out and back, where length and conductor are known. */
  readonly cableOhms?: Interval;
  /** How many contacts the loop has, where known. */
  readonly contacts?: number;
  /** The resistor's value and tolerance, where its colours have been seen; 5 % where they say none. */
  readonly resistorOhms?: number;
  readonly resistorTolerance?: number;
};

/** One thing that the loop may be. */
export type LoopCandidate = {
  readonly style: IdentifiedStyle;
  readonly contacts: 'normally-closed' | 'normally-open' | 'both' | 'unknown';
  /** Nominal; `null` where there is none. */
  readonly resistorOhms: number | null;
  readonly alarmResistorOhms: number | null;
  /** `bridged` alone: the resistor across each contact, in the order of the readings. */
  readonly bridgeOhms: readonly number[] | null;
  readonly resistorAt: 'panel' | 'detector' | 'unknown' | null;
  /** Cable and contacts, as far as the readings tell. */
  readonly cableOhms: number | null;
  /** Its share of all that fits, 0 to 1. */
  readonly fit: number;
  readonly says: string;
};

export type Identification = {
  /** Best first. */
  readonly candidates: readonly LoopCandidate[];
  /** More than one candidate is left, or an open loop may as well be a cut one. */
  readonly ambiguous: boolean;
  /** Why no loop reads like this; the candidates are then empty. */
  readonly impossible: string | null;
  /** What to find out next so that fewer candidates are left. */
  readonly ask: readonly string[];
};

/** Readings as true bounds, and what stands in the loop besides resistors. */
export type LoopFacts = {
  readonly rest: Interval;
  readonly active: readonly Interval[];
  readonly tamper: Interval | null;
  readonly field: Interval | null;
  /** Cable and closed contacts together. */
  readonly residual: Interval;
  readonly contacts: number | null;
  /** The resistor by its colours: what it can truly have. */
  readonly seen: Interval | null;
};
