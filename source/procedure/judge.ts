import { parseQuantity, type QuantityKind } from '../electrical/quantity.ts';
import { isAsked } from './asked.ts';
import { endsCard, isBeyondStop, isNear, isUsable } from './decisive.ts';
import { checkText, doubleLabels } from './judge-text.ts';
import type {
  ChoiceProof,
  ObservationProof,
  Proof,
  ReadingProof,
  Step,
  SweepProof,
  TextProof,
} from './step.ts';
import { STOP_VOLTS } from './voltage.ts';

/** What a sweep answers where nothing was met: there is no place to name. */
export const NOWHERE = 'nowhere';
/** How the words end for a sweep that touched too few points. */
export const TOUCHED = ' touched';

/** One answer of a card, judged. Figures are safe integers in thousandths of the proof's unit. */
export type JudgedField = {
  readonly field: string;
  readonly verdict: 'passed' | 'unexpected' | 'failed' | 'recorded';
  /** The reading in thousandths; null for an open circuit and for what is no figure. */
  readonly milli: number | null;
  readonly open: boolean;
  readonly window: null | {
    readonly minMilli: number | null;
    readonly maxMilli: number | null;
    readonly usableMinMilli: number | null;
    readonly usableMaxMilli: number | null;
  };
  /** The plan's measuring point behind it. */
  readonly point: string | null;
  readonly says: string;
};

type FieldProblem = { readonly field: string; readonly says: string };
type Doubtful = { readonly name: 'wrong-multiple'; readonly field: string; readonly says: string };

type Judgement =
  | {
      readonly ok: true;
      readonly verdict: 'passed' | 'failed' | 'recorded';
      /** The option chosen where the step branches. */
      readonly option: string | null;
      readonly fields: readonly JudgedField[];
      /** Worth asking about before it is taken; acknowledged by name. */
      readonly challenges: readonly Doubtful[];
    }
  | { readonly ok: false; readonly problems: readonly FieldProblem[] };

type Answers = Readonly<Record<string, unknown>>;
type Answer = { readonly judged: JudgedField; readonly value: number | null; readonly option: string | null };
type Read = Answer | { readonly problem: string };

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
    const figure = read.judged.milli === null ? null : read.judged.milli / 1000;
    isDecided ||= endsCard(proof, { chosen: typed, figure }, metIn(given));
  }
  problems.push(...doubleLabels(step.proof, values));
  if (problems.length > 0) return { ok: false, problems };
  const fields = step.proof.flatMap((proof) => {
    const answer = given.get(proof.field);
    if (!answer) return [];
    return [isOnLivePair(proof, given) ? unjudged(answer.judged) : withNeighbours(proof, answer, given)];
  });
  return {
    ok: true,
    verdict: verdictOf(fields),
    option: [...given.values()].find((answer) => answer.option !== null)?.option ?? null,
    fields,
    challenges: step.proof.flatMap((proof) => doubtful(proof, given.get(proof.field))),
  };
}

function isMissing(typed: unknown): boolean {
  return typed === undefined || typed === null || (typeof typed === 'string' && typed.trim() === '');
}

/** What the answers so far met, also where a sweep touched too few points. */
const metIn = (given: ReadonlyMap<string, Answer>) => (field: string) => {
  const met = given.get(field)?.judged.milli ?? null;
  return met === null ? null : met / 1000;
};

function missingSays(proof: Proof): string {
  return `"${proof.field}" has no value (${proof.label}). Give one.`;
}

function verdictOf(fields: readonly JudgedField[]): 'passed' | 'failed' | 'recorded' {
  if (fields.some((field) => field.verdict === 'failed')) return 'failed';
  const readings = fields.filter((field) => field.window !== null);
  const unjudged = readings.length > 0 && readings.every((field) => field.verdict === 'recorded');
  return unjudged ? 'recorded' : 'passed';
}

function readAnswer(proof: Proof, typed: unknown): Read {
  switch (proof.kind) {
    case 'reading':
      return readReading(proof, typed);
    case 'sweep':
      return readSweep(proof, typed);
    case 'choice':
      return readChoice(proof, typed);
    case 'text':
      return readText(proof, typed);
    case 'observation':
      return readObservation(proof, typed);
  }
}

const QUANTITY: Readonly<Record<ReadingProof['of'], QuantityKind>> = {
  ohms: 'ohms',
  'volts-dc': 'volts',
  'volts-ac': 'volts',
  amps: 'amps',
};
/** Above this no figure is recorded in thousandths: 9 gigohm, far beyond any meter's range. */
const GREATEST = 9e9;
const milli = (value: number | null) =>
  value === null || !Number.isFinite(value) ? null : Math.round(value * 1000);

function figure(of: ReadingProof['of'], typed: unknown): { value: number } | { problem: string } {
  if (typeof typed !== 'string') return { problem: 'A reading is typed as text, with or without its unit.' };
  const parsed = parseQuantity(typed, QUANTITY[of], 'field-unit');
  if (!parsed.ok) return { problem: parsed.says };
  if (of !== 'ohms' && !Number.isFinite(parsed.value))
    return { problem: 'Only ohms can be open. Type a figure.' };
  if (of === 'ohms' && parsed.value > GREATEST) return { value: Number.POSITIVE_INFINITY };
  if (Math.abs(parsed.value) > GREATEST)
    return { problem: 'No meter reads that much. Type the figure again.' };
  return { value: parsed.value };
}

function readReading(proof: ReadingProof, typed: unknown): Read {
  const read = figure(proof.of, typed);
  if ('problem' in read) return read;
  const { value } = read;
  const isBeyond = isBeyondStop(proof.of, value);
  const fits = !isBeyond && isExpected(proof, value);
  const usable = isBeyond ? false : isUsable(proof, value);
  const verdict = usable === false ? 'failed' : usable === null ? 'recorded' : fits ? 'passed' : 'unexpected';
  const judged = {
    field: proof.field,
    verdict: verdict === 'recorded' && proof.danger ? (fits ? 'passed' : 'failed') : verdict,
    milli: milli(value),
    open: !Number.isFinite(value),
    window: {
      minMilli: milli(proof.min),
      maxMilli: milli(proof.max),
      usableMinMilli: milli(proof.usable?.min ?? null),
      usableMaxMilli: milli(proof.usable?.max ?? null),
    },
    point: proof.point,
    says: fits ? 'as expected' : isBeyond ? BEYOND : usable === false ? 'not usable' : 'not as expected',
  } as const;
  return { judged, value, option: null };
}

/** Nothing here works with more, whatever a card expects: it is no finding to be noted but the end of the work. */
const BEYOND = `beyond ${STOP_VOLTS} V`;

function isExpected(proof: ReadingProof, value: number): boolean {
  if (!Number.isFinite(value)) return proof.open !== 'no';
  if (proof.open === 'must') return false;
  return (proof.min === null || value >= proof.min) && (proof.max === null || value <= proof.max);
}

function readSweep(proof: SweepProof, typed: unknown): Read {
  if (typeof typed !== 'object' || typed === null) {
    return { problem: 'A sweep is the greatest value met, where, and at how many points.' };
  }
  const { greatest, at, points } = typed as Record<string, unknown>;
  const read = figure(proof.of, greatest);
  if ('problem' in read) return read;
  if (typeof at !== 'string' || !(at === NOWHERE || proof.points.includes(at))) {
    return {
      problem: `"at" is one of the points of this sweep, or ${NOWHERE}: ${proof.points.join(', ')}.`,
    };
  }
  if (typeof points !== 'number' || !Number.isInteger(points) || points < 0 || points > 10_000) {
    return { problem: '"points" is the number of points touched, a whole number.' };
  }
  const inside = read.value >= proof.min && read.value <= proof.max;
  if (at === NOWHERE && !inside)
    return { problem: `${read.value} ${proof.unit} was met somewhere. Say at which point.` };
  const enough = points >= proof.points.length;
  const judged = {
    field: proof.field,
    verdict: inside && enough ? 'passed' : 'failed',
    milli: milli(read.value),
    open: !Number.isFinite(read.value),
    window: {
      minMilli: milli(proof.min),
      maxMilli: milli(proof.max),
      usableMinMilli: null,
      usableMaxMilli: null,
    },
    point: null,
    says: enough
      ? inside
        ? 'nothing met'
        : `met at ${at}`
      : `${points} points of ${proof.points.length}${TOUCHED}`,
  } as const;
  return { judged, value: enough ? read.value : Number.NaN, option: null };
}

function plain(
  proof: Proof,
  verdict: 'passed' | 'failed',
  says: string,
  option: string | null = null,
): Answer {
  const judged = { field: proof.field, verdict, milli: null, open: false, window: null, point: null, says };
  return { judged, value: null, option };
}

function readChoice(proof: ChoiceProof, typed: unknown): Read {
  const option = proof.options.find((one) => one.id === typed);
  if (!option) return { problem: `Choose one of ${proof.options.map((one) => one.id).join(', ')}.` };
  const chosen = option.leads === 'branch' ? option.id : null;
  return plain(proof, option.leads === 'fail' ? 'failed' : 'passed', option.label, chosen);
}

function readText(proof: TextProof, typed: unknown): Read {
  const told = checkText(proof, typed);
  if ('problem' in told) return told;
  return plain(proof, told.fits ? 'passed' : 'failed', told.says);
}

function readObservation(proof: ObservationProof, typed: unknown): Read {
  if (typed !== 'open' && typed !== 'closed' && typed !== 'nothing') {
    return { problem: 'Say what the receiving side showed: open, closed or nothing.' };
  }
  return plain(proof, typed === proof.expect ? 'passed' : 'failed', `seen: ${typed}`);
}

/** Ohms that were read although a voltage stood there: kept, and worth nothing. */
function isOnLivePair(proof: Proof, given: ReadonlyMap<string, Answer>): boolean {
  return (
    proof.kind === 'reading' && proof.unless !== undefined && !isAsked(proof, metIn(given), () => undefined)
  );
}

const unjudged = (judged: JudgedField): JudgedField => ({
  ...judged,
  verdict: 'recorded',
  says: 'read under voltage: worth nothing',
});

/** What a second field says about a first: an induced voltage that collapses, an instrument that drifted. */
function withNeighbours(proof: Proof, answer: Answer, given: ReadonlyMap<string, Answer>): JudgedField {
  const { judged, value } = answer;
  if (proof.kind === 'sweep' && proof.rereadAs && judged.verdict === 'failed' && value !== null) {
    const again = given.get(proof.rereadAs);
    const collapsed = again?.judged.verdict === 'passed' && Math.abs(value) <= (proof.stopAbove ?? 0);
    return collapsed
      ? { ...judged, verdict: 'unexpected', says: 'induced: it collapses under load' }
      : judged;
  }
  if (proof.kind === 'reading' && proof.agreesWith && value !== null) {
    const other = given.get(proof.agreesWith.field)?.value ?? null;
    const near = other !== null && isNear(value, other, proof.agreesWith.within);
    return near ? judged : { ...judged, verdict: 'failed', says: 'the instrument no longer says the same' };
  }
  return judged;
}

/** A figure that fits once the kilo is put right was most likely read without it. */
function doubtful(proof: Proof, answer: Answer | undefined): Doubtful[] {
  if (proof.kind !== 'reading' || proof.of !== 'ohms' || !answer || proof.nominal === null) return [];
  const value = answer.value ?? Number.NaN;
  if (!Number.isFinite(value) || value === 0 || proof.nominal < 100 || isExpected(proof, value)) return [];
  if (!isExpected(proof, value * 1000)) return [];
  const says = `${value} ohm would fit if it were ${value} kohm. Type the unit, or say that it was read so.`;
  return [{ name: 'wrong-multiple', field: proof.field, says }];
}
