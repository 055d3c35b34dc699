import { isAsked } from './asked.ts';
import { endsCard, isNear } from './decisive.ts';
import { type Fall, isExpected, VERDICT_OF } from './fall.ts';
import { type Answer, type JudgedField, readAnswer, readSweepSoFar } from './judge-answer.ts';
import { doubleLabels } from './judge-text.ts';
import type { Proof, Step, SweepProof } from './step.ts';
import type { StopCode } from './stop-table.ts';
import { stopOf } from './stops.ts';

export { type JudgedField, NOWHERE } from './judge-answer.ts';

type FieldProblem = { readonly field: string; readonly says: string };
type Doubtful = { readonly name: 'wrong-multiple'; readonly field: string; readonly says: string };

type Judgement =
  | {
      readonly ok: true;
      readonly verdict: 'passed' | 'failed' | 'recorded';
      /** The option chosen where the step branches. */
      readonly option: string | null;
      readonly fields: readonly JudgedField[];
      /** Why the work stops; null where it does not. */
      readonly stop: StopCode | null;
      /** Worth asking about before it is taken; acknowledged by name. */
      readonly challenges: readonly Doubtful[];
    }
  | { readonly ok: false; readonly problems: readonly FieldProblem[] };

type Answers = Readonly<Record<string, unknown>>;
type Given = ReadonlyMap<string, Answer>;

/**
 * Judges what was typed into a card. A value outside its usable window fails; outside the expected one alone it
 * passes and is marked. What cannot be read is a problem, and nothing is judged.
 *
 * @param step the step as it stands now (`presentStep`)
 * @param values by field, as typed
 */
export function judgeProof(step: Pick<Step, 'proof'>, values: Answers): Judgement {
  const given = new Map<string, Answer>();
  const problems: FieldProblem[] = [];
  const known = new Set(step.proof.map((proof) => proof.field));
  for (const field of Object.keys(values)) {
    if (!known.has(field))
      problems.push({ field, says: `There is no "${field}" on this card. Leave it out.` });
  }
  let isDecided = false;
  for (const proof of step.proof) {
    const typed = values[proof.field];
    if (isMissing(typed)) {
      if (!isDecided && isAsked(proof, metIn(given), (field) => values[field]))
        problems.push({ field: proof.field, says: missingSays(proof) });
      continue;
    }
    const read = readAnswer(proof, typed);
    if ('problem' in read) {
      problems.push({ field: proof.field, says: read.problem });
      continue;
    }
    given.set(proof.field, read);
    isDecided ||= endsCard(proof, { chosen: typed, figure: read.figure }, metIn(given));
  }
  problems.push(...doubleLabels(step.proof, values));
  if (problems.length > 0) return { ok: false, problems };
  const fields = togetherOf(step.proof, given);
  return {
    ok: true,
    verdict: verdictOf(fields),
    option: branchOf(step.proof, fields),
    fields,
    stop: stopOf(step.proof, fields),
    challenges: step.proof.flatMap((proof) => doubtful(proof, given.get(proof.field))),
  };
}

/**
 * The same of a card that is still being answered: what was typed so far and can be read, as it would be recorded. Of a
 * sweep its greatest value is enough; the place and the count may be missing.
 */
export function judgeSoFar(proofs: readonly Proof[], values: Answers): readonly JudgedField[] {
  const given = new Map<string, Answer>();
  for (const proof of proofs) {
    const typed = values[proof.field];
    const read = isMissing(typed)
      ? null
      : proof.kind === 'sweep'
        ? readSweepSoFar(proof, typed)
        : readAnswer(proof, typed);
    if (read !== null && !('problem' in read)) given.set(proof.field, read);
  }
  return togetherOf(proofs, given);
}

function withFall(judged: JudgedField, fall: Fall): JudgedField {
  return { ...judged, fall, verdict: VERDICT_OF[fall.is] };
}

function togetherOf(proofs: readonly Proof[], given: Given): JudgedField[] {
  return proofs.flatMap((proof) => {
    const answer = given.get(proof.field);
    return answer === undefined ? [] : [withFall(answer.judged, fallBeside(proof, answer, given))];
  });
}

function isMissing(typed: unknown): boolean {
  return typed === undefined || typed === null || (typeof typed === 'string' && typed.trim() === '');
}

/** What the answers so far met, also where a sweep touched too few points. */
const metIn = (given: Given) => (field: string) => given.get(field)?.figure ?? null;

function missingSays(proof: Proof): string {
  return `"${proof.field}" has no value (${proof.label}). Give one.`;
}

function verdictOf(fields: readonly JudgedField[]): 'passed' | 'failed' | 'recorded' {
  if (fields.some((field) => field.verdict === 'failed')) return 'failed';
  const readings = fields.filter((field) => field.window !== null);
  const unjudged = readings.length > 0 && readings.every((field) => field.verdict === 'recorded');
  return unjudged ? 'recorded' : 'passed';
}

function branchOf(proofs: readonly Proof[], fields: readonly JudgedField[]): string | null {
  for (const { field, fall } of fields) {
    if (fall.is !== 'chosen') continue;
    const proof = proofs.find((one) => one.field === field);
    const isBranch =
      proof?.kind === 'choice' &&
      proof.options.some(({ id, leads }) => id === fall.option && leads === 'branch');
    if (isBranch) return fall.option;
  }
  return null;
}

/** What other answers of the card say about one: an induced voltage that collapses, an instrument that drifted. */
function fallBeside(proof: Proof, answer: Answer, given: Given): Fall {
  const { fall, verdict } = answer.judged;
  if (proof.kind === 'sweep' && fall.is === 'met') return fallReread(proof, answer, given);
  if (proof.kind !== 'reading') return fall;
  // Ohms that were read although a voltage stood there: kept, and worth nothing.
  if (proof.unless !== undefined && !isAsked(proof, metIn(given), () => undefined)) return { is: 'live' };
  const before = proof.agreesWith === undefined ? undefined : given.get(proof.agreesWith.field)?.figure;
  if (proof.agreesWith === undefined || before === undefined || before === null) return fall;
  const isSame = isNear(answer.figure ?? Number.NaN, before, proof.agreesWith.within);
  return isSame || verdict === 'failed' ? fall : { is: 'differs' };
}

/** A voltage that is gone at low input impedance was induced; what was not touched is still to be touched. */
function fallReread(proof: SweepProof, { judged, figure }: Answer, given: Given): Fall {
  const again = proof.rereadAs === undefined ? undefined : given.get(proof.rereadAs);
  const collapsed = again?.judged.verdict === 'passed' && Math.abs(figure ?? 0) <= (proof.stopAbove ?? 0);
  if (!collapsed || judged.fall.is !== 'met') return judged.fall;
  const of = proof.points.length;
  const { missing } = judged.fall;
  return missing > 0 ? { is: 'short-count', points: of - missing, of } : { is: 'induced' };
}

/** A figure that fits once the kilo is put right was most likely read without it. */
function doubtful(proof: Proof, answer: Answer | undefined): Doubtful[] {
  if (proof.kind !== 'reading' || proof.of !== 'ohms' || !answer || proof.nominal === null) return [];
  const value = answer.figure ?? Number.NaN;
  if (!Number.isFinite(value) || value === 0 || proof.nominal < 100 || isExpected(proof, value)) return [];
  if (!isExpected(proof, value * 1000)) return [];
  const says = `${value} ohm would fit if it were ${value} kohm. Type the unit, or say that it was read so.`;
  return [{ name: 'wrong-multiple', field: proof.field, says }];
}
