import type { FaultyLoop } from './faulty-loop.ts';
import type { Interval } from './interval.ts';
import { type Expression, RESISTOR_TOLERANCE } from './loop.ts';
import { formatQuantity } from './quantity.ts';
import { RESISTOR_RANGE, TRADE_VALUES } from './resistor-values.ts';
import { exchangeAt, leavesOf, type Placed } from './rewrite.ts';

const OPEN: Expression = { kind: 'open' };
const resistor = (ohms: number): Expression => ({ kind: 'resistor', ohms, tolerance: RESISTOR_TOLERANCE });
const inRow = (...of: Expression[]): Expression => ({ kind: 'series', of });
const beside = (...of: Expression[]): Expression => ({ kind: 'parallel', of });
const shown = (ohms: number) => formatQuantity(ohms, 'ohms');

/** Any resistor of the trade, where no usual value explains a reading. */
const ANY_OHMS: Interval = {
  min: RESISTOR_RANGE.min * (1 - RESISTOR_TOLERANCE),
  nominal: 4700,
  max: RESISTOR_RANGE.max * (1 + RESISTOR_TOLERANCE),
};
const ANY_RESISTOR: Expression = { kind: 'cable', id: 'resistor', ohms: ANY_OHMS };

/** No part is sold with more doubt than ±20 % (IEC 60062, no tolerance band). */
const WIDEST_PART = 0.2;

/** How often a second resistor is of another value than the first, beside its like: common practice, no source. */
const UNLIKE = 0.4;

type PlacedResistor = Placed<Extract<Expression, { kind: 'resistor' }>>;

/**
 * Every single fault of a resistor: of those in the loop, and, where the loop should have none, of those
 * that may still be there.
 *
 * @param values of resistors that may sit where none is expected
 */
export function resistorFaults(
  expression: Expression,
  values: readonly number[] = TRADE_VALUES,
): readonly FaultyLoop[] {
  const fitted = leavesOf(expression).filter((one): one is PlacedResistor => one.leaf.kind === 'resistor');
  if (fitted.length === 0) return values.flatMap((ohms) => unexpectedResistor(expression, ohms));
  return fitted.flatMap((one) => [
    ...missing(expression, one),
    ...(isKnown(one) ? [...joinedBySecond(expression, one, values), ...otherValue(expression, one)] : []),
  ]);
}

/** In the row, across the pair, or across one contact: wherever somebody may have put one. */
function unexpectedResistor(expression: Expression, ohms: number): FaultyLoop[] {
  const part = resistor(ohms);
  const contacts = leavesOf(expression).filter(({ leaf }) => leaf.kind === 'contact');
  const inLoop = [inRow(expression, part), beside(expression, part)];
  const atContacts = contacts.map(({ place }) => exchangeAt(expression, place, (one) => beside(one, part)));
  return [
    ...inLoop.map((loop) => ({
      cause: 'resistor-still-in' as const,
      weight: 1,
      says: `A resistor of ${shown(ohms)} is still in the loop.`,
      try: 'Follow the pair at the panel for a resistor in a sleeve or under a screw, take it out and read again.',
      expression: loop,
    })),
    ...[...inLoop, ...atContacts].map((loop) => ({
      cause: 'resistor-at-detector' as const,
      weight: 1,
      says: `A resistor of ${shown(ohms)} sits out at a detector.`,
      try: 'Open the last detector of the loop and look between its terminals.',
      expression: loop,
    })),
  ];
}

/** Of a resistor whose value nobody knows none can be said to be doubled or another. */
function isKnown({ leaf }: PlacedResistor): boolean {
  return leaf.tolerance <= WIDEST_PART;
}

function missing(expression: Expression, one: PlacedResistor): FaultyLoop[] {
  const { leaf, place, within } = one;
  const words = {
    cause: 'resistor-missing',
    weight: 1,
    says: isKnown(one)
      ? `The ${shown(leaf.ohms)} resistor is not in the loop.`
      : 'The resistor is not in the loop.',
    try: 'Look where the survey has the resistor, and whether a wire bridges it.',
  } as const;
  const gap = { ...words, expression: exchangeAt(expression, place, () => OPEN) };
  if (within === 'parallel') return [gap];
  // Taken out of a row it leaves a gap for the moment it takes to join the wires again.
  return [
    { ...words, expression: exchangeAt(expression, place, () => inRow()) },
    { ...gap, weight: 0.3 },
  ];
}

/** A second resistor with the one that is known of: its like first, for a loop is served from one bag. */
function joinedBySecond(
  expression: Expression,
  { leaf, place }: PlacedResistor,
  values: readonly number[],
): FaultyLoop[] {
  const others = values.filter((ohms) => ohms !== leaf.ohms);
  return [leaf.ohms, ...others].flatMap((ohms): FaultyLoop[] => {
    const second = resistor(ohms);
    const isLike = ohms === leaf.ohms;
    const both = isLike
      ? `Two resistors of ${shown(ohms)}`
      : `A resistor of ${shown(ohms)} and that of ${shown(leaf.ohms)}`;
    const weight = isLike ? 1 : UNLIKE;
    return [
      {
        cause: 'resistors-in-series',
        weight,
        says: `${both} stand in series.`,
        try: 'Look for a second resistor at the panel, and read the field side alone.',
        expression: exchangeAt(expression, place, (one) => inRow(one, second)),
      },
      {
        cause: 'resistor-at-detector',
        weight,
        says: `Another resistor of ${shown(ohms)} sits out at the detector.`,
        try: 'Read the field side alone: the resistor shows there. Then open the last detector.',
        expression: inRow(expression, second),
      },
      {
        cause: 'resistors-in-parallel',
        weight,
        says: `${both} stand in parallel.`,
        try: 'Look for a second resistor across the pair, at the panel and at the last detector.',
        expression: exchangeAt(expression, place, (one) => beside(one, second)),
      },
    ];
  });
}

function otherValue(expression: Expression, { leaf, place }: PlacedResistor): FaultyLoop[] {
  const words = {
    cause: 'resistor-value-differs',
    try: 'Read the colours of the resistor, and correct the survey if they differ.',
  } as const;
  const usual = TRADE_VALUES.filter((ohms) => ohms !== leaf.ohms).map((ohms) => ({
    ...words,
    weight: 0.5,
    says: `The resistor is ${shown(ohms)} instead of ${shown(leaf.ohms)}.`,
    expression: exchangeAt(expression, place, () => resistor(ohms)),
  }));
  const any = {
    ...words,
    weight: 0.5,
    says: `The resistor has another value than ${shown(leaf.ohms)}.`,
    expression: exchangeAt(expression, place, () => ANY_RESISTOR),
  };
  return [...usual, any];
}
