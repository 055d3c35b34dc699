import type { Unit } from './units.ts';

/**
 * The order of what is minimised, in one number that stays a safe integer for 1,000 detectors: first the loss,
 * then groups that mix entry, perimeter and interior, then joins that are parted. Before all of it stands
 * that who asks for one input gets it together.
 */
export const LOSS = 2 ** 22;
export const MIX = 2 ** 11;
/** Outweighs any loss of one group: detectors that ask for one input share it. */
export const ASKED = LOSS * 2 ** 13;

/**
 * Loss of one group: what it costs that its detectors no longer report each by itself.
 *
 * @example lossOf([{size: 1, importance: 3}, {size: 2, importance: 2}]) // => 10
 */
export function lossOf(units: readonly Pick<Unit, 'size' | 'importance'>[]): number {
  let size = 0;
  let importance = 0;
  for (const unit of units) {
    size += unit.size;
    importance += unit.importance;
  }
  return importance * (size - 1);
}

/** Whether more than one kind of place is among these bits. */
export function mixesPlaces(bits: number): boolean {
  return (bits & (bits - 1)) !== 0;
}

/** May these share one input? `sharing` lists the sets of zones whose detectors may. */
export function mayStandTogether(units: readonly Unit[], sharing: readonly ReadonlySet<string>[]): boolean {
  const first = units[0]!;
  let asked = first.asked;
  for (const unit of units) {
    if (unit.company !== first.company) return false;
    if (unit.asked !== null && asked !== null && unit.asked !== asked) return false;
    asked ??= unit.asked;
  }
  if (units.every((unit) => unit.zone === first.zone)) return true;
  // Contacts in a row need a return each: what shares one core cannot follow one another.
  const returns = units.flatMap((unit) => unit.returns);
  if (!first.company.startsWith('normally-open') && new Set(returns).size < returns.length) return false;
  return sharing.some((zones) => units.every((unit) => zones.has(unit.zone)));
}
