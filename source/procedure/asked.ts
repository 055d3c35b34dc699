import type { Proof } from './step.ts';

/**
 * Whether a card asks for an answer, going by those that were given before it: a second reading only where a sweep
 * met too much, ohms only where no voltage stands, what tells causes apart only where an input did not show what it
 * should.
 *
 * @param met what an answer of the same card met, in its unit; null where there is none yet
 * @param seen what was seen of an input on the same card; undefined where nothing was said yet
 * @example isAsked({ kind: 'reading', unless: [{ field: 'dc', above: 0.5 }] }, () => 12.6, () => undefined) // => false
 */
export function isAsked(
  proof: Asking,
  met: (field: string) => number | null,
  seen: (field: string) => unknown,
): boolean {
  if (proof.kind !== 'reading') return true;
  const { when, unless = [] } = proof;
  const size = (field: string) => Math.abs(met(field) ?? 0);
  if (unless.some(({ field, above }) => size(field) > above)) return false;
  if (when === undefined) return true;
  if ('seen' in when) {
    const shown = seen(when.seen);
    return shown !== undefined && shown !== '' && shown !== when.not;
  }
  return size(when.sweep) > when.above && size(when.sweep) <= when.upTo;
}

/** A proof, as far as it says when it is asked for. */
type Asking =
  | { readonly kind: Exclude<Proof['kind'], 'reading'> }
  | Pick<Extract<Proof, { kind: 'reading' }>, 'kind' | 'when' | 'unless'>;
