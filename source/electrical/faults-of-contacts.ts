import { bridgeAcross } from './bridge.ts';
import type { FaultyLoop } from './faulty-loop.ts';
import { type ContactExpression, type Expression, MECHANICAL_CLOSED_OHMS } from './loop.ts';
import { exchangeAt, leavesOf } from './rewrite.ts';

const BRIDGE: Expression = { kind: 'cable', id: 'bridge', ohms: MECHANICAL_CLOSED_OHMS };

type ContactFault = {
  readonly cause: FaultyLoop['cause'];
  readonly weight: number;
  readonly says: (contact: ContactExpression) => string;
  readonly try: (detector: string) => string;
  /** What stands in the contact's place; `null` where this contact cannot have the fault. */
  readonly stands: (contact: ContactExpression) => Expression | null;
};

const FAULTS: readonly ContactFault[] = [
  {
    cause: 'contact-stuck-open',
    weight: 1,
    // A door that nobody shut and a contact that sticks read alike, and the door is met far more often.
    says: ({ detector, unpowered }) =>
      unpowered === null
        ? `${detector} stands open, or its contact stays open.`
        : `The contact of ${detector} stays open.`,
    try: (detector) =>
      `Check that ${detector} is shut and its magnet in place, then bridge it and read again.`,
    stands: ({ detector }) => bridgeAcross(detector),
  },
  {
    cause: 'contact-bridged',
    weight: 1,
    says: ({ detector }) => `The contact of ${detector} is bridged or stays closed.`,
    try: (detector) => `Look for a bridge at ${detector}, then work it again and listen for the contact.`,
    // A wire across it, or the contact itself that no longer opens.
    stands: ({ closed }) => ({ kind: 'cable', id: 'bridge', ohms: { ...closed, min: 0 } }),
  },
  {
    cause: 'relay-unpowered',
    weight: 1,
    says: ({ detector }) => `${detector} has no supply and has dropped its relay.`,
    try: (detector) => `Read it again once ${detector} is powered and warmed up, or bridge its contact.`,
    // Without supply most relays open (1996 detector data sheet: trips when its supply is cut).
    stands: ({ detector, unpowered }) => {
      if (unpowered === null) return null;
      return unpowered === 'closed' ? BRIDGE : bridgeAcross(detector);
    },
  },
];

/** Every single fault of a contact. */
export function contactFaults(expression: Expression): readonly FaultyLoop[] {
  return leavesOf(expression).flatMap(({ leaf, place }) => {
    if (leaf.kind !== 'contact') return [];
    return FAULTS.flatMap(({ cause, weight, stands, ...words }) => {
      const instead = stands(leaf);
      if (instead === null) return [];
      return {
        cause,
        weight,
        says: words.says(leaf),
        try: words.try(leaf.detector),
        expression: exchangeAt(expression, place, () => instead),
      };
    });
  });
}
