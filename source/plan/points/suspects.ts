import type { Cause } from '../../electrical/causes.ts';
import { faultVariants } from '../../electrical/fault-variants.ts';
import { type Expression, MECHANICAL_CLOSED_OHMS, RESISTOR_TOLERANCE } from '../../electrical/loop.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import { TRADE_VALUES } from '../../electrical/resistor-values.ts';
import { exchangeLeaves } from '../../electrical/rewrite.ts';
import type { Survey } from '../../site/survey.ts';
import { contactsOf } from '../loops/contacts.ts';
import type { MeasuringPoint, Suspect } from '../plan.ts';
import type { BarePoint } from './reading-states.ts';

/**
 * Gives every measuring point what else could stand between its leads: each fault its own loop can have, and
 * what only the plan knows, the pairs of the other zones and other ways of joining. Worked out for a point when
 * it is first asked for, for a plan has thousands and a job looks at a few.
 */
export function withSuspects(points: readonly BarePoint[], survey: Survey): MeasuringPoint[] {
  const resistors = usedResistors(survey);
  const restOf = new Map<MeasuringPoint['phase'], BarePoint[]>();
  for (const point of points)
    if (point.id.endsWith('.rest')) restOf.set(point.phase, [...(restOf.get(point.phase) ?? []), point]);
  const wholeOf = new Map(
    points.filter(({ id }) => /^(lifted|bare)\..*\.rest$/.test(id)).map((point) => [point.zone, point]),
  );
  return points.map((point) => {
    let suspects: readonly Suspect[] | null = null;
    return {
      ...point,
      get suspects() {
        suspects ??= [
          ...faultVariants(point.expression, { resistors }).map((one) => ({
            ...one,
            states: one.states ?? {},
          })),
          ...otherPairs(point, restOf.get(point.phase) ?? []),
          ...strangerInTheLoop(point),
          ...resistorAtDetector(point, resistors),
          ...joinedOtherWay(point, wholeOf.get(point.zone)),
          ...hiddenDetector(point),
        ];
        return suspects;
      },
    };
  });
}

/** A point before its suspects, which are not worked out for it. */
export function barePoint(point: MeasuringPoint): BarePoint {
  const { id, phase, zone, circuit, between, with: states, judgesContact, expression, window } = point;
  return { id, phase, zone, circuit, between, with: states, judgesContact, expression, window };
}

/** The site's own resistors first: they are the likeliest to turn up where none is expected. */
function usedResistors(survey: Survey): number[] {
  const known = [...survey.zones, ...survey.tampers].flatMap(({ loop }) => [
    loop.resistorOhms,
    loop.alarmResistorOhms,
  ]);
  return [...new Set([...known.filter((ohms) => typeof ohms === 'number'), ...TRADE_VALUES])];
}

function suspect(
  cause: Cause,
  says: string,
  act: string,
  expression: Expression,
  states: Suspect['states'] = {},
  weight = 1,
): Suspect {
  return { cause, says, try: act, expression, states, weight };
}

function otherPairs(point: BarePoint, all: readonly BarePoint[]): Suspect[] {
  return all
    .filter((other) => other.id !== point.id && other.between.join() !== point.between.join())
    .filter((other) => other.zone !== point.zone || point.phase === 'split')
    .map((other) => {
      const whose = other.id.slice(other.id.indexOf('.') + 1, -'.rest'.length);
      const isOwn = other.zone === point.zone;
      return suspect(
        isOwn ? 'joined-other-way' : 'other-pair',
        isOwn
          ? `This is the pair of ${whose}: the detectors are joined the other way round.`
          : `This is the pair of ${whose}: two labels are swapped.`,
        `Work ${contactsOf(other.expression)[0]?.detector ?? whose} while the meter stays on: if the reading follows, swap the labels.`,
        other.expression,
        other.with,
      );
    });
}

/** One of its pairs belongs to another zone: whatever hangs there stands as it stands, whoever is worked here. */
function strangerInTheLoop({ expression }: BarePoint): Suspect[] {
  return contactsOf(expression).flatMap(({ detector }) =>
    STRANGERS.map((stranger) =>
      suspect(
        'other-pair',
        `The pair that should be that of ${detector} belongs to another zone: two labels are swapped.`,
        `Work ${detector}, then the detectors of the other zones, while the meter stays on.`,
        exchangeLeaves(expression, (leaf) =>
          leaf.kind === 'contact' && leaf.detector === detector ? stranger : null,
        ),
        {},
        0.4,
      ),
    ),
  );
}

/** Another resistor in a row with one contact: it shows only while that contact is closed. */
function resistorAtDetector({ expression }: BarePoint, values: readonly number[]): Suspect[] {
  return contactsOf(expression).flatMap(({ detector }) =>
    values.map((ohms) =>
      suspect(
        'resistor-at-detector',
        `A resistor of ${formatQuantity(ohms, 'ohms')} sits in a row with the contact of ${detector}.`,
        `Open ${detector} and look between its terminals.`,
        exchangeLeaves(expression, (leaf) =>
          leaf.kind === 'contact' && leaf.detector === detector
            ? { kind: 'series', of: [leaf, { kind: 'resistor', ohms, tolerance: RESISTOR_TOLERANCE }] }
            : null,
        ),
        {},
        0.6,
      ),
    ),
  );
}

/** Closed, as a contact at rest, or open, as a relay without supply. */
const STRANGERS: readonly Expression[] = [
  { kind: 'cable', id: 'another pair', ohms: { min: 0, nominal: 2, max: 20 } },
  { kind: 'open' },
];

/** Several contacts of a zone meet at other places than surveyed. */
function joinedOtherWay(point: BarePoint, whole: BarePoint | undefined): Suspect[] {
  const contacts = contactsOf(whole?.expression ?? point.expression);
  if (contacts.length < 2) return [];
  const act = 'Ring out each cable of the zone by itself and draw how they meet; then correct the survey.';
  const row: Expression = { kind: 'series', of: contacts };
  const ladder: Expression = { kind: 'parallel', of: contacts };
  const ways: [string, Expression][] =
    point.phase === 'split' && whole
      ? [['They are joined in the field: this pair carries the whole zone.', whole.expression]]
      : [
          ['They lie side by side, not in a row.', ladder],
          ['They lie in a row, not side by side.', row],
        ];
  return ways.map(([says, expression]) => suspect('joined-other-way', says, act, expression, {}, 0.3));
}

/** It may stand either way; that it is found at all is mostly because it stands open. */
function hiddenDetector({ expression }: BarePoint): Suspect[] {
  const hidden: Expression = {
    kind: 'contact',
    detector: 'hidden',
    sense: 'unknown',
    closed: MECHANICAL_CLOSED_OHMS,
    unpowered: null,
  };
  const behind = (one: Expression, weight: number) =>
    suspect(
      'hidden-detector',
      'There is a contact on this loop that the survey does not know.',
      'Walk the room for one more opening or device, and follow the cable.',
      { kind: 'series', of: [expression, one] },
      {},
      weight,
    );
  return [behind(hidden, 0.05), behind({ kind: 'open' }, 1.05)];
}
