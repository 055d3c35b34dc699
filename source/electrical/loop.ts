import {
  addIntervals,
  eitherInterval,
  exactly,
  type Interval,
  parallelIntervals,
  within,
} from './interval.ts';

/** How a contact stands: at rest, worked, or without the supply its relay needs. */
export type ContactState = 'rest' | 'active' | 'unpowered';

/** How a contact stands when its detector is at rest. */
export type ContactSense = 'normally-closed' | 'normally-open';

/**
 * A loop as an expression: every style of loop, at any stage of the work, is one of these, and any meter
 * reading is one evaluation of it. Parts stand in the order of the wiring, both cores of a cable in one row with
 * what hangs at its far end between them: so a fault of the cable acts on what hangs on it.
 */
export type Expression =
  | { readonly kind: 'series'; readonly of: readonly Expression[] }
  | { readonly kind: 'parallel'; readonly of: readonly Expression[] }
  | {
      readonly kind: 'contact';
      readonly detector: string;
      readonly sense: ContactSense | 'unknown';
      /** Ohms while closed: mechanical contacts and electronic relays differ. */
      readonly closed: Interval;
      /** How it stands without supply; `null` for a contact that needs no supply. */
      readonly unpowered: 'open' | 'closed' | 'unknown' | null;
    }
  | { readonly kind: 'resistor'; readonly ohms: number; readonly tolerance: number }
  | { readonly kind: 'cable'; readonly id: string; readonly ohms: Interval }
  | { readonly kind: 'open' };

/** The state of each contact; a detector that is not named is at rest. */
export type ContactStates = Readonly<Record<string, ContactState>>;

/** Part of a reading and a fixed amount: how far a meter may be off. */
export type Accuracy = { readonly fraction: number; readonly floor: number };

/** The meter assumed where none is stated: ±(1 % + 0.5 Ω) and ±(1 % + 0.05 V), leads zeroed. */
export const METER = {
  ohms: { fraction: 0.01, floor: 0.5 },
  volts: { fraction: 0.01, floor: 0.05 },
} as const satisfies Record<string, Accuracy>;

/**
 * A dry contact while closed, splices included. A new reed reads about 0.07 Ω (component maker's note,
 * cianswitch.com 2018); 2 Ω for an old one with its splices is common practice, no source.
 */
export const MECHANICAL_CLOSED_OHMS: Interval = { min: 0, nominal: 0.1, max: 2 };

/**
 * An electronic detector's relay while closed: many have a protection resistor in the contact's path
 * (10 to 47 Ω, from memory).
 */
export const RELAY_CLOSED_OHMS: Interval = { min: 0, nominal: 0.1, max: 50 };

/** Resistors are taken as 5 % parts where nothing else is known: the usual part in this trade. */
export const RESISTOR_TOLERANCE = 0.05;

const OPEN = exactly(Number.POSITIVE_INFINITY);

/**
 * What stands between the two ends of a loop, in ohms, as true bounds (the meter not included: see
 * {@link readingWindow}). Every part of an expression stands for a different physical part, so the bounds
 * are tight. A contact whose state is not known spans closed to open, with closed as its nominal.
 *
 * @param states detectors that are not at rest
 * @example evaluateLoop({kind: 'series', of: [{kind: 'resistor', ohms: 2200, tolerance: 0.05}, {kind: 'contact', detector: 'door', sense: 'normally-closed', closed: {min: 0, nominal: 0.1, max: 2}, unpowered: null}]}, {}) // => {min: 2090, nominal: 2200.1, max: 2312}
 */
export function evaluateLoop(expression: Expression, states: ContactStates): Interval {
  switch (expression.kind) {
    case 'series':
    case 'parallel': {
      const parts: Interval[] = [];
      for (const part of expression.of) parts.push(evaluateLoop(part, states));
      return expression.kind === 'series' ? addIntervals(...parts) : parallelIntervals(...parts);
    }
    case 'contact':
      return contactOhms(expression, states[expression.detector] ?? 'rest');
    case 'resistor':
      return within(expression.ohms, expression.tolerance);
    case 'cable':
      return expression.ohms;
    case 'open':
      return OPEN;
  }
}

/** One contact's part of {@link Expression}. */
export type ContactExpression = Extract<Expression, { kind: 'contact' }>;

/**
 * Whether a contact is closed in a state, as far as that is known.
 *
 * @example contactStands({kind: 'contact', detector: 'loft', sense: 'normally-closed', closed: RELAY_CLOSED_OHMS, unpowered: 'open'}, 'unpowered') // => 'open'
 */
export function contactStands(
  contact: ContactExpression,
  state: ContactState,
): 'closed' | 'open' | 'unknown' {
  if (state === 'unpowered' && contact.unpowered !== null) return contact.unpowered;
  if (contact.sense === 'unknown') return 'unknown';
  return (contact.sense === 'normally-closed') === (state !== 'active') ? 'closed' : 'open';
}

function contactOhms(contact: ContactExpression, state: ContactState): Interval {
  const stands = contactStands(contact, state);
  if (stands === 'closed') return contact.closed;
  return stands === 'open' ? OPEN : eitherInterval(contact.closed, OPEN);
}

/**
 * What a meter may show of a true figure: its bounds widened by the meter's own error, never below zero
 * for ohms (hand in the accuracy for volts where the figure is a voltage). Open stays open.
 *
 * @example readingWindow({min: 100, nominal: 100, max: 100}) // => {min: 98.5, nominal: 100, max: 101.5}
 */
export function readingWindow(truth: Interval, meter: Accuracy = METER.ohms): Interval {
  const error = (value: number) => Math.abs(value) * meter.fraction + meter.floor;
  const min = truth.min === Number.POSITIVE_INFINITY ? truth.min : truth.min - error(truth.min);
  return {
    min: truth.min >= 0 ? Math.max(0, min) : min,
    nominal: truth.nominal,
    max: truth.max + error(truth.max),
  };
}

/**
 * What may truly stand there when a meter shows a figure: {@link readingWindow} turned round.
 *
 * @example trueOhms(101.5) // => {min: 100, nominal: 101.5, max: 103.0303}
 */
export function trueOhms(readingOhms: number, meter: Accuracy = METER.ohms): Interval {
  if (readingOhms === Number.POSITIVE_INFINITY) return OPEN;
  return {
    min: Math.max(0, (readingOhms - meter.floor) / (1 + meter.fraction)),
    nominal: readingOhms,
    max: (readingOhms + meter.floor) / (1 - meter.fraction),
  };
}
