import type { Next, OpenStep } from '../../source/job/action.ts';
import type { Proof } from '../../source/procedure/step.ts';
import { type Field, fieldsOf } from '../../source/screens/entry/field.ts';

/** How a finger on a numeric keypad answers: digits, point, minus, Enter and arrows. */
export type KeypadKey = 'enter' | 'left' | 'right' | 'up' | 'down' | (string & {});

const NEGATIVE = /cannot|not sure|unsure|no one|none|refus/i;

/** What a step asks for where no voltage is met: no second reading of one. */
const askedOf = (step: OpenStep) =>
  fieldsOf(step.proof).filter(
    (field) => !(field.kind === 'reading' && field.scale?.kind === 'reading' && field.scale.when),
  );

/** The keys that answer one field of a step as `next` expects it, without the Enter that takes it. */
export function keysForField(step: OpenStep, at: number): readonly KeypadKey[] {
  const field = askedOf(step)[at]!;
  const proof = step.proof.find((one) => field.id === one.field || field.id.startsWith(`${one.field}.`));
  return keysFor(field, proof);
}

/** The keys that answer a whole step, field by field. */
export function answersTo(step: OpenStep): readonly KeypadKey[] {
  return askedOf(step).flatMap((_, at) => [...keysForField(step, at), 'enter']);
}

function keysFor(field: Field, proof: Proof | undefined): readonly KeypadKey[] {
  switch (field.kind) {
    case 'reading':
      return reading(proof);
    case 'count':
      return [...String(field.of)];
    case 'choice':
      return choice(field, proof);
    case 'text':
      if (proof?.kind === 'text' && proof.check?.is === 'count' && proof.check.survey !== null)
        return [...String(proof.check.survey)];
      if (proof?.kind === 'text' && proof.check?.is === 'label') return [...(proof.offers[0] ?? '1')];
      if (field.numeric) return [...'4711'].slice(0, Math.max(1, field.minLength));
      return field.offers.length > 0 ? ['1'] : spelled(Math.max(2, field.minLength));
  }
}

function reading(proof: Proof | undefined): readonly KeypadKey[] {
  if (proof?.kind === 'sweep') return [...'0.02'];
  if (proof?.kind !== 'reading') return [...'0.3'];
  if (proof.open === 'must') return ['right'];
  if (proof.nominal === null && proof.min === null) return proof.open === 'may' ? ['right'] : ['0'];
  if (proof.nominal === null && proof.max === null) return [...String((proof.min ?? 0) * 2)];
  const value = proof.nominal ?? ((proof.min ?? 0) + (proof.max ?? 0)) / 2;
  return [...String(Number(value.toPrecision(4)))];
}

function choice(field: Extract<Field, { kind: 'choice' }>, proof: Proof | undefined): readonly KeypadKey[] {
  if (proof?.kind === 'observation')
    return [String(field.options.findIndex((option) => option.id === proof.expect) + 1)];
  if (proof?.kind !== 'choice') return ['1'];
  const passing = proof.options.findIndex(
    (option) => option.leads === 'pass' && !NEGATIVE.test(option.label),
  );
  const branch = proof.options.findIndex((option) => option.leads !== 'fail');
  return [String((passing >= 0 ? passing : Math.max(0, branch)) + 1)];
}

// Down opens the letters at the first; left goes round to the last, which ends.
function spelled(length: number): readonly KeypadKey[] {
  return ['down', ...Array.from({ length }, () => 'enter'), 'left', 'enter'];
}

/** The step the screens show: the first open one that did not fail. */
export function shownStep(next: Next, failed: ReadonlySet<string> = new Set()): OpenStep | null {
  if (next.closeNeeds.length === 0) return null;
  return next.open.find((step) => !failed.has(step.id)) ?? next.open[0] ?? null;
}

/** The bytes a terminal sends for a key. */
export function bytesOf(key: KeypadKey): string {
  const named: Readonly<Record<string, string>> = {
    enter: '\r',
    up: '\x1b[A',
    down: '\x1b[B',
    right: '\x1b[C',
    left: '\x1b[D',
    escape: '\x1b',
  };
  return named[key] ?? key;
}
