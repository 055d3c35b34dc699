import { type ContactExpression, type ContactState, MECHANICAL_CLOSED_OHMS } from './loop.ts';

/** Under this name a bridge that somebody holds across a detector's terminals is worked like a contact. */
function bridgeName(detector: string): string {
  return `bridge:${detector}`;
}

/**
 * A contact that never closes, as a meter sees it: open, until somebody holds a bridge across its
 * terminals. That is how a dead contact is told from a cut cable.
 */
export function bridgeAcross(detector: string): ContactExpression {
  return {
    kind: 'contact',
    detector: bridgeName(detector),
    sense: 'normally-open',
    closed: MECHANICAL_CLOSED_OHMS,
    unpowered: null,
  };
}

/** How a contact and a bridge across it stand while the bridge is held there: closed, whatever its sense. */
export function bridgedStates(contact: ContactExpression): Readonly<Record<string, ContactState>> {
  return {
    [contact.detector]: contact.sense === 'normally-open' ? 'active' : 'rest',
    [bridgeName(contact.detector)]: 'active',
  };
}

/** Whether this is such a bridge, and no contact of the loop. */
export function isBridge({ detector }: ContactExpression): boolean {
  return detector.startsWith('bridge:');
}
