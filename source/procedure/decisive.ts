import { isOver, isUnder } from '../electrical/limit.ts';
import type { ReadingProof, SweepProof } from './step.ts';
import { STOP_VOLTS } from './voltage.ts';

/** An answer as it was given: what was chosen, and the figure in the proof's unit where it is one. */
type Given = { readonly chosen: unknown; readonly figure: number | null };

/**
 * Whether an answer by itself ends its card, so that nothing after it is asked: a choice that cannot pass, a DC voltage
 * where none may be, any voltage at which hands come off, an instrument that fails on its known source. What was seen of
 * an input ends nothing: what tells its causes apart is read next.
 *
 * @param figureOf what another answer of the card says, in its unit; null where there is none
 * @example endsCard({ kind: 'choice', options: [{ id: 'mains', leads: 'fail' }] }, { chosen: 'mains', figure: null }, () => null) // => true
 */
export function endsCard(
  proof: Ending,
  { chosen, figure }: Given,
  figureOf: (field: string) => number | null,
): boolean {
  switch (proof.kind) {
    case 'choice':
      return proof.options.some(({ id, leads }) => id === chosen && leads === 'fail');
    case 'sweep':
      return figure !== null && (isBeyondStop(proof.of, figure) || isMet(proof, figure));
    case 'reading':
      return (
        figure !== null &&
        (isBeyondStop(proof.of, figure) || (isKnownSource(proof) && !isTrusted(proof, figure, figureOf)))
      );
    default:
      return false;
  }
}

/** A proof, as far as it says what ends its card. */
type Ending =
  | Pick<ReadingProof, 'kind' | 'of' | 'between' | 'usable' | 'agreesWith'>
  | Pick<SweepProof, 'kind' | 'of' | 'min' | 'max' | 'rereadAs'>
  | { readonly kind: 'choice'; readonly options: readonly { readonly id: string; readonly leads: string }[] }
  | { readonly kind: 'text' | 'observation' };

/** A voltage where none may be, and no second reading that would tell it from an induced one. */
function isMet(
  { of, min, max, rereadAs }: Pick<SweepProof, 'of' | 'min' | 'max' | 'rereadAs'>,
  figure: number,
) {
  return of !== 'ohms' && rereadAs === undefined && !isWithin(figure, min, max);
}

/** A voltage with which nothing here works, whatever a card expects: the end of the work, no finding to be noted. */
export function isBeyondStop(of: ReadingProof['of'], figure: number): boolean {
  return (of === 'volts-dc' || of === 'volts-ac') && isOver(Math.abs(figure), STOP_VOLTS);
}

/** Whether it is the instrument that is tried here, on a source whose voltage is known. */
export function isKnownSource({ between }: Pick<ReadingProof, 'between'>): boolean {
  return between[0].startsWith('known:');
}

function isTrusted(
  { usable, agreesWith }: Pick<ReadingProof, 'usable' | 'agreesWith'>,
  figure: number,
  figureOf: (field: string) => number | null,
): boolean {
  if (isUsable({ usable }, figure) === false) return false;
  if (!agreesWith) return true;
  const before = figureOf(agreesWith.field);
  return before !== null && isNear(figure, before, agreesWith.within);
}

/** Whether a figure is one that work may go on with; null where nothing is judged. */
export function isUsable({ usable }: Pick<ReadingProof, 'usable'>, figure: number): boolean | null {
  return usable ? isWithin(figure, usable.min, usable.max) : null;
}

/** Whether a figure lies between two bounds, which belong to it: the program's one comparison with a limit. */
export function isWithin(figure: number, min: number | null, max: number | null): boolean {
  if (Number.isNaN(figure)) return false;
  return (min === null || !isUnder(figure, min)) && (max === null || !isOver(figure, max));
}

/** Whether the same instrument says of the same source what it said before, within a fraction of that. */
export function isNear(figure: number, before: number, within: number): boolean {
  return Math.abs(figure - before) <= Math.abs(before) * within;
}
