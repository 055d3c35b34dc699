import type { Expression } from './loop.ts';

export type Leaf = Exclude<Expression, { kind: 'series' | 'parallel' }>;

/** Where a part stands in an expression: which of its parts, and which of theirs, from the outside in. */
export type Place = readonly number[];

/** One leaf and its place. The same leaf object may stand in several places: both cores of one cable. */
export type Placed<L extends Leaf = Leaf> = {
  readonly leaf: L;
  readonly place: Place;
  /** What it is joined in: a part missing from a row leaves a bridge or a gap, from a ladder a gap. */
  readonly within: 'series' | 'parallel';
};

/** Every leaf of an expression, in the order of the wiring. */
export function leavesOf(
  expression: Expression,
  place: Place = [],
  within: Placed['within'] = 'series',
): readonly Placed[] {
  if (expression.kind !== 'series' && expression.kind !== 'parallel') {
    return [{ leaf: expression, place, within }];
  }
  const { kind, of } = expression;
  return of.flatMap((part, at) => leavesOf(part, [...place, at], kind));
}

/** The expression with the part at one place exchanged; nothing else is touched. */
export function exchangeAt(
  expression: Expression,
  place: Place,
  exchange: (part: Expression) => Expression,
): Expression {
  const [at, ...rest] = place;
  if (at === undefined) return exchange(expression);
  if (expression.kind !== 'series' && expression.kind !== 'parallel') return expression;
  const part = expression.of[at];
  if (part === undefined) return expression;
  return { ...expression, of: expression.of.with(at, exchangeAt(part, rest, exchange)) };
}

/** The expression with every leaf exchanged that a function answers for. */
export function exchangeLeaves(
  expression: Expression,
  exchange: (leaf: Leaf) => Expression | null,
): Expression {
  if (expression.kind !== 'series' && expression.kind !== 'parallel') {
    return exchange(expression) ?? expression;
  }
  return { ...expression, of: expression.of.map((part) => exchangeLeaves(part, exchange)) };
}
