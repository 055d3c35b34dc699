import { isWithin } from './decisive.ts';
import {
  type Fall,
  fallOfReading,
  fallOfSweep,
  type ReadingWindow,
  VERDICT_OF,
  type Verdict,
} from './fall.ts';
import { readFigure } from './figure.ts';
import { checkText } from './judge-text.ts';
import type { ChoiceProof, ObservationProof, Proof, ReadingProof, SweepProof, TextProof } from './step.ts';

/** What a sweep answers where nothing was met: there is no place to name. */
export const NOWHERE = 'nowhere';

/** One answer of a card, judged. Figures are safe integers in thousandths of the proof's unit. */
export type JudgedField = {
  readonly field: string;
  readonly fall: Fall;
  /** What the fall makes of it, by `VERDICT_OF`. */
  readonly verdict: Verdict;
  /** The reading in thousandths; null for an open circuit, for what the range does not show and for what is no figure. */
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
};

/** `figure`: what was read, in the proof's unit; null for what is no figure. */
export type Answer = { readonly judged: JudgedField; readonly figure: number | null };
type Read = Answer | { readonly problem: string };
/** One answer by itself, as it was typed. */
export function readAnswer(proof: Proof, typed: unknown): Read {
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

const milli = (value: number | null) =>
  value === null || !Number.isFinite(value) ? null : Math.round(value * 1000);

function figure(of: ReadingProof['of'], typed: unknown): { value: number } | { problem: string } {
  if (typeof typed !== 'string') return { problem: 'A reading is typed as text, with or without its unit.' };
  const read = readFigure(of, typed);
  return read.ok ? { value: read.value } : { problem: read.says };
}

function measured(
  { field, of, point }: Pick<ReadingProof, 'field' | 'of' | 'point'>,
  window: Pick<ReadingWindow, 'min' | 'max' | 'usable'>,
  value: number,
  fall: Fall,
): Answer {
  const judged: JudgedField = {
    field,
    fall,
    verdict: VERDICT_OF[fall.is],
    milli: milli(value),
    open: of === 'ohms' && !Number.isFinite(value),
    window: {
      minMilli: milli(window.min),
      maxMilli: milli(window.max),
      usableMinMilli: milli(window.usable?.min ?? null),
      usableMaxMilli: milli(window.usable?.max ?? null),
    },
    point,
  };
  return { judged, figure: value };
}

function readReading(proof: ReadingProof, typed: unknown): Read {
  const read = figure(proof.of, typed);
  return 'problem' in read ? read : measured(proof, proof, read.value, fallOfReading(proof, read.value));
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
  if (at === NOWHERE && !isWithin(read.value, proof.min, proof.max))
    return { problem: `${greatest} was met somewhere. Say at which point.` };
  return sweptAnswer(proof, read.value, { at, points });
}

/** A sweep that is still being answered: its greatest value is enough. */
export function readSweepSoFar(proof: SweepProof, typed: unknown): Read {
  const { greatest, at, points } = (typeof typed === 'object' && typed !== null ? typed : {}) as Record<
    string,
    unknown
  >;
  const read = figure(proof.of, greatest);
  if ('problem' in read) return read;
  return sweptAnswer(proof, read.value, {
    at: typeof at === 'string' && proof.points.includes(at) ? at : null,
    points: typeof points === 'number' ? points : null,
  });
}

function sweptAnswer(
  proof: SweepProof,
  value: number,
  where: { readonly at: string | null; readonly points: number | null },
): Answer {
  const window = { min: proof.min, max: proof.max, usable: null };
  return measured({ ...proof, point: null }, window, value, fallOfSweep(proof, value, where));
}

function plain(proof: Proof, fall: Fall): Answer {
  const verdict = VERDICT_OF[fall.is];
  const judged = { field: proof.field, fall, verdict, milli: null, open: false, window: null, point: null };
  return { judged, figure: null };
}

function readChoice(proof: ChoiceProof, typed: unknown): Read {
  const option = proof.options.find((one) => one.id === typed);
  if (!option) return { problem: `Choose one of ${proof.options.map((one) => one.id).join(', ')}.` };
  const { id, label, leads } = option;
  return plain(proof, { is: leads === 'fail' ? 'chosen-against' : 'chosen', option: id, label });
}

function readText(proof: TextProof, typed: unknown): Read {
  const told = checkText(proof, typed);
  if ('problem' in told) return told;
  return plain(proof, told.fits ? { is: 'written' } : { is: 'miscounted', ...told.differs });
}

function readObservation(proof: ObservationProof, typed: unknown): Read {
  if (typed !== 'open' && typed !== 'closed' && typed !== 'nothing') {
    return { problem: 'Say what the receiving side showed: open, closed or nothing.' };
  }
  return plain(proof, { is: typed === proof.expect ? 'seen' : 'seen-otherwise', shown: typed });
}
