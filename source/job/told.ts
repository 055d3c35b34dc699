import { isKnownSource } from '../procedure/decisive.ts';
import { sayFall } from '../procedure/fall-words.ts';
import type { JudgedField } from '../procedure/judge.ts';
import { placeName } from '../procedure/place-name.ts';
import type { Proof, ReadingProof, Step, SweepProof } from '../procedure/step.ts';
import type { TypedValue } from './action.ts';

type Typed = Readonly<Record<string, TypedValue>>;

/**
 * Every answer of a card that does not pass, by name, and what follows from it: a measured one says its figure, a
 * chosen one its own consequence. First what puts all the others in question, an instrument that fails.
 */
export function tellFailures(
  { proof: proofs }: Pick<Step, 'proof'>,
  typed: Typed,
  judged: readonly JudgedField[],
): string[] {
  const failed = proofs.flatMap((proof) => {
    const field = judged.find((one) => one.field === proof.field);
    return field?.verdict === 'failed' ? [{ proof, field }] : [];
  });
  const first = failed.filter(({ proof }) => isInstrument(proof));
  const others = failed.filter(({ proof }) => !isInstrument(proof));
  return [...first, ...others].flatMap(({ proof, field }) => tell(proof, field, typed));
}

/** Whether the instrument failed on its known source: then nothing that it said on this card explains anything. */
export function hasInstrumentFailed(
  { proof: proofs }: Pick<Step, 'proof'>,
  judged: readonly JudgedField[],
): boolean {
  return judged.some(
    ({ field, verdict }) =>
      verdict === 'failed' && proofs.some((proof) => proof.field === field && isInstrument(proof)),
  );
}

function isInstrument(proof: Proof): boolean {
  return proof.kind === 'reading' && isKnownSource(proof);
}

function tell(proof: Proof, field: JudgedField, typed: Typed): string[] {
  switch (proof.kind) {
    case 'choice': {
      const chosen = proof.options.find((option) => option.id === typed[proof.field]);
      return [`${proof.label}: ${chosen?.label ?? sayFall(field.fall)}. ${chosen?.follows ?? ''}`.trim()];
    }
    case 'text':
      return [`${proof.label}: ${sayFall(field.fall)}. Count again; if it is so, correct the survey.`];
    case 'observation':
      return [`${proof.label}: ${sayFall(field.fall)}, and it should be ${proof.expect}.`];
    case 'reading':
      return [tellReading(proof, field)];
    case 'sweep':
      return tellSweep(proof, field, typed[proof.field]);
  }
}

function tellReading(proof: ReadingProof, field: JudgedField): string {
  const figure = figureOf(field, proof.unit);
  if (isInstrument(proof)) {
    const how = proof.agreesWith
      ? `shows ${figure} now, and no longer what it showed before`
      : `shows ${figure}`;
    return `On its known source the instrument ${how}. Nothing that it said counts: take another instrument or a fresh source, and prove all of it again.`;
  }
  const follows = proof.follows ?? (field.fall.is === 'beyond-stop' ? BEYOND : '');
  return `${proof.label}: ${figure} does not pass. ${follows}`.trim();
}

const BEYOND =
  'Hands off, and the lid shut: a licensed electrician finds where it comes from before anything is read again.';

function tellSweep(proof: SweepProof, field: JudgedField, typed: TypedValue | undefined): string[] {
  if (typeof typed !== 'object') return [];
  const mode = proof.of === 'volts-ac' ? 'AC' : proof.of === 'volts-dc' ? 'DC' : 'ohms';
  const { points, at } = typed;
  const missing = proof.points.length - points;
  const { is } = field.fall;
  return [
    ...(is === 'met' || is === 'beyond-stop'
      ? [
          `${mode}: ${figureOf(field, proof.unit)} at ${placeName(at)}. It is not dead there. ${is === 'beyond-stop' ? BEYOND : 'Find what feeds it, take it off, and prove again.'}`,
        ]
      : []),
    ...(missing > 0
      ? [
          `${mode}: ${points} of ${proof.points.length} points were touched, ${missing} ${missing === 1 ? 'is' : 'are'} missing. What was not touched is not proved: go through all of them again, from ${placeName(proof.points[0] ?? '')} to ${placeName(proof.points.at(-1) ?? '')}.`,
        ]
      : []),
  ];
}

function figureOf({ milli, open }: JudgedField, unit: string): string {
  if (open) return 'OL';
  return milli === null ? 'OL, more than the range shows,' : `${milli / 1000} ${unit}`;
}
