import type { Interval } from './interval.ts';

/** How a contact stands: at rest, worked, or without the supply its relay needs. */
export type ContactState = 'rest' | 'active' | 'unpowered';

/** How a contact stands when its detector is at rest. */
export type ContactSense = 'normally-closed' | 'normally-open';

/**
 * A loop as an expression: every style of loop, at any stage of the work, is one of these, and any meter
 * reading is one evaluation of it.
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
