import { COPPER_CLAD_FACTOR } from './conductor.ts';
import type { FaultyLoop } from './faulty-loop.ts';
import { exactly, type Interval } from './interval.ts';
import type { Expression } from './loop.ts';
import { exchangeAt, exchangeLeaves, leavesOf, type Place, type Placed } from './rewrite.ts';

type CableExpression = Extract<Expression, { kind: 'cable' }>;
type PlacedCable = Placed<CableExpression>;

const OPEN: Expression = { kind: 'open' };
const extra = (id: string, min: number, nominal: number, max: number): Expression => ({
  kind: 'cable',
  id,
  ohms: { min, nominal, max },
});

/** Sizes of faults: common practice, no source. */
const CORRODED = extra('corroded splice', 3, 40, 500);
const DAMP = extra('damp', 5e3, 1e5, 2e7);
const LEADS = extra('meter leads', 0.2, 0.8, 5);
const SHORT = extra('short', 0, 0.2, 1);
/** A length read wrong by more than its own doubt: feet for metres, another run, a way round. */
const LENGTH_FACTOR: Interval = { min: 0.15, nominal: 2, max: 6 };
/** Copper-clad aluminium, or a gauge four to six sizes finer. */
const CONDUCTOR_FACTOR: Interval = { min: COPPER_CLAD_FACTOR * 0.9, nominal: COPPER_CLAD_FACTOR, max: 4.5 };

/** Every single fault of a cable, and what acts on the loop as a whole: damp and the meter's leads. */
export function cableFaults(expression: Expression): readonly FaultyLoop[] {
  const cables = leavesOf(expression).filter((one): one is PlacedCable => one.leaf.kind === 'cable');
  const ids = [...new Set(cables.map(({ leaf }) => leaf.id))];
  return [
    ...ids.flatMap((id) => {
      const places = cables.filter(({ leaf }) => leaf.id === id).map(({ place }) => place);
      return faultsOfCable(expression, id, places);
    }),
    {
      cause: 'corroded-splice',
      weight: 1,
      says: 'A corroded splice or terminal adds resistance.',
      try: 'Make the splices at the panel again and read again; then those at the detectors.',
      expression: { kind: 'series', of: [expression, CORRODED] },
    },
    ...damp(expression),
    {
      cause: 'meter-leads',
      weight: 0.5,
      says: 'The meter leads were not zeroed or make poor contact.',
      try: 'Touch the leads together, zero the meter, scrape the conductors and read again.',
      expression: { kind: 'series', of: [expression, LEADS] },
    },
  ];
}

/** Between the conductors at the near end, or out at one of the contacts. */
function damp(expression: Expression): FaultyLoop[] {
  const beside = (one: Expression): Expression => ({ kind: 'parallel', of: [one, DAMP] });
  const atContacts = leavesOf(expression)
    .filter(({ leaf }) => leaf.kind === 'contact')
    .map(({ place }) => exchangeAt(expression, place, beside));
  return [beside(expression), ...atContacts].map((loop) => ({
    cause: 'damp-cable',
    weight: 1,
    says: 'Damp lets current leak between the conductors.',
    try: 'Read it with the meter leads swapped and again in dry weather; look at joints outside.',
    expression: loop,
  }));
}

function faultsOfCable(expression: Expression, id: string, places: readonly Place[]): FaultyLoop[] {
  const [first] = places;
  if (first === undefined) return [];
  const scaled = (factor: Interval) =>
    exchangeLeaves(expression, (leaf) =>
      leaf.kind === 'cable' && leaf.id === id ? { ...leaf, ohms: timesFactor(leaf.ohms, factor) } : null,
    );
  return [
    {
      cause: 'cable-cut',
      weight: 1,
      says: `Cable ${id} is cut or a conductor of it is loose.`,
      try: `Twist the pair of ${id} together at its far end: if it still reads open, the cable is cut.`,
      expression: exchangeAt(expression, first, () => OPEN),
    },
    ...shortedAt(expression, places).map((shorted) => ({
      cause: 'cable-shorted' as const,
      weight: 1,
      says: `Cable ${id} is shorted.`,
      try: `Take the pair of ${id} off at its far end: if it still reads low, the cable is shorted.`,
      expression: shorted,
    })),
    ...places.map((place) => ({
      cause: 'corroded-splice' as const,
      weight: 1,
      says: `A corroded splice or terminal of ${id} adds resistance.`,
      try: `Make the splices of ${id} again and read again.`,
      expression: exchangeAt(expression, place, (cable) => ({ kind: 'series', of: [cable, CORRODED] })),
    })),
    {
      cause: 'length-differs',
      weight: 0.5,
      says: `Cable ${id} is longer or shorter than surveyed.`,
      try: `Follow the run of ${id} and correct its length.`,
      expression: scaled(LENGTH_FACTOR),
    },
    {
      cause: 'conductor-differs',
      weight: 0.5,
      says: `The conductor of ${id} is of another size or metal than surveyed.`,
      try: `Scrape a conductor of ${id}: silver under copper is aluminium. Read the print on its sheath.`,
      expression: scaled(CONDUCTOR_FACTOR),
    },
  ];
}

/**
 * A short somewhere along a cable: what hangs beyond it is out of the loop. Where both cores stand in a
 * row, all between them is beyond; where one leaf is the pair, that is everything else in its row, but a
 * resistor there may as well sit at the near end.
 */
function shortedAt(expression: Expression, places: readonly Place[]): Expression[] {
  const row = places[0]!.slice(0, -1);
  const siblings = places.filter(
    (place) => place.length === row.length + 1 && row.every((at, i) => place[i] === at),
  );
  const from = siblings[0]!.at(-1)!;
  const to = siblings.at(-1)!.at(-1)!;
  const rows: Expression[] = [];
  const exchange = (keep: (part: Expression, at: number) => boolean) =>
    rows.push(
      exchangeAt(expression, row, (part) => {
        if (part.kind !== 'series') return SHORT;
        const kept = part.of.map((one, at) =>
          at >= from && at <= to && one.kind === 'cable' ? partOf(one) : one,
        );
        return { kind: 'series', of: [...kept.filter(keep), SHORT] };
      }),
    );
  if (siblings.length > 1 && to > from + 1)
    exchange((one, at) => at < from || at > to || one.kind === 'cable');
  // Both cores before what they lead to: all that follows is beyond.
  else if (siblings.length > 1) exchange((_, at) => at <= to);
  else {
    exchange((one, at) => at === from || (one.kind === 'cable' && at < from));
    exchange((one) => one.kind === 'cable' || one.kind === 'resistor');
  }
  return rows;
}

/** A short may lie anywhere along a cable: up to all of it is left. */
function partOf(cable: CableExpression): Expression {
  return { ...cable, ohms: { ...cable.ohms, min: 0, nominal: cable.ohms.nominal / 2 } };
}

function timesFactor(ohms: Interval, factor: Interval): Interval {
  if (ohms.max === Number.POSITIVE_INFINITY) return exactly(ohms.max);
  return { min: ohms.min * factor.min, nominal: ohms.nominal * factor.nominal, max: ohms.max * factor.max };
}
