import type { Proof, TextProof } from './step.ts';

type CheckedText =
  | { readonly fits: true }
  | { readonly fits: false; readonly differs: { readonly counted: number; readonly survey: number } }
  | { readonly problem: string };

/** Holds words or a number that were typed against what is asked: long enough, and a time where a time is asked. */
export function checkText({ check, minLength, offers }: TextProof, typed: unknown): CheckedText {
  if (typeof typed !== 'string') return { problem: 'This is answered with a few words or a number.' };
  const text = typed.trim();
  if ([...text].length < minLength) return { problem: `This needs at least ${minLength} characters.` };
  const recorded = { fits: true } as const;
  if (check === undefined || offers.includes(text))
    return check?.is === 'count' ? count(text, check.survey) : recorded;
  switch (check.is) {
    case 'time':
      return isTime(text) ? recorded : { problem: 'This is a time: 18:00, say, or tomorrow 18:00.' };
    case 'photographs':
      return isPhotographed(text)
        ? recorded
        : { problem: 'Take at least one photograph and say how many, or say in words why there is none.' };
    case 'label':
      return recorded;
    case 'count':
      return count(text, check.survey);
  }
}

function count(text: string, survey: number | null): CheckedText {
  if (!/^\d{1,4}$/.test(text)) return { problem: 'This is how many: a whole number, in digits.' };
  if (survey === null || Number(text) === survey) return { fits: true };
  return { fits: false, differs: { counted: Number(text), survey } };
}

const CLOCK = /\b([01]?\d|2[0-4])\s*[:.h]\s*[0-5]\d\b|^([01]\d|2[0-4])[0-5]\d$/i;
const SPAN_OR_HOUR = /\b\d{1,3}\s*(am|pm|h|hours?|min|minutes?|days?|weeks?)\b/i;
const DAY =
  /\b(today|tonight|tomorrow|noon|midnight|(mon|tues|wednes|thurs|fri|satur|sun)day)\b|\b\d{4}-\d\d-\d\d\b|\b\d{1,2}[./]\d{1,2}\b/i;

/** A time of day, a day, or a stretch of time from now. */
function isTime(text: string): boolean {
  return CLOCK.test(text) || SPAN_OR_HOUR.test(text) || DAY.test(text);
}

function isPhotographed(text: string): boolean {
  return /^\d+$/.test(text) ? Number(text) > 0 : /\p{L}{3}/u.test(text);
}

/** Two wires with the same number on their labels: afterwards nobody knows which is which. */
export function doubleLabels(
  proofs: readonly Proof[],
  values: Readonly<Record<string, unknown>>,
): { readonly field: string; readonly says: string }[] {
  const first = new Map<string, string>();
  return proofs.flatMap((proof) => {
    const typed = values[proof.field];
    if (!isLabel(proof) || typeof typed !== 'string' || typed.trim() === '') return [];
    const label = typed.trim();
    const other = first.get(label);
    if (other === undefined) first.set(label, proof.field);
    return other === undefined ? [] : [{ field: proof.field, says: sayDouble(label, other) }];
  });
}

/** Whether a proof asks for the number on a label. */
export function isLabel(proof: Proof): boolean {
  return proof.kind === 'text' && proof.check?.is === 'label';
}

export const sayDouble = (label: string, other: string) =>
  `Label ${label} is on ${other} already. Give every wire a number of its own.`;
