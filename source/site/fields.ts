import * as z from 'zod/mini';
import { type Conductor, parseConductor } from '../electrical/conductor.ts';
import { type Parsed, parseQuantity, type QuantityKind } from '../electrical/quantity.ts';
import type { ReadDocument, Written } from './document.ts';
import { orWords, type Path, type Problem, type Trouble } from './problem.ts';

// Compiling a schema to code takes longer than walking it over a file, which is read once.
z.config({ jitless: true });

/**
 * The fields of survey and board files as zod schemas. Every value comes as text, so that a field says
 * itself what it accepts; a field that is missing is told the same way.
 */
function textField<T>(accepts: string, read: (text: string) => T | { readonly refused: string }) {
  return z.transform((value: unknown, context): T => {
    const refuse = (says: string): never => {
      context.issues.push({ code: 'custom', message: says, input: value, params: { accepts } });
      return z.NEVER;
    };
    if (value === undefined) return refuse('This field is missing.');
    if (typeof value !== 'string') {
      return refuse(`Here stands ${Array.isArray(value) ? 'a list' : 'a group of fields'}, not a value.`);
    }
    const result = read(value);
    return isRefused(result) ? refuse(result.refused) : result;
  });
}

function isRefused(result: unknown): result is { readonly refused: string } {
  return typeof result === 'object' && result !== null && 'refused' in result;
}

/** Free words, on one line. */
export const words = (most = 80) =>
  textField<string>(`text of at most ${most} characters`, (text) =>
    text.length > most || /\p{C}/u.test(text)
      ? { refused: `${quoted(text)} is too long or holds characters that cannot be shown.` }
      : text,
  );

const ID = /^[a-z0-9][a-z0-9-]{0,23}$/;
const ID_ACCEPTS = 'a short name of small letters, digits and hyphens, such as side-door, at most 24';

/** The name of a thing in the file; `reserved` words have a meaning of their own where ids are used. */
export const id = (...reserved: string[]) =>
  textField<string>(ID_ACCEPTS, (text) => {
    if (!ID.test(text)) return { refused: `${quoted(text)} cannot be an id.` };
    return reserved.includes(text) ? { refused: `"${text}" has a meaning of its own here.` } : text;
  });

/** What is printed at a screw: `8`, `I1`, `A+`. */
export const terminal = () =>
  textField<string>('what is printed at the terminal, such as "8" or A+', (text) =>
    /^[\p{L}\p{N}+~.*#_-]{1,12}$/u.test(text) && !text.includes('.')
      ? text
      : { refused: `${quoted(text)} cannot be the name of a terminal.` },
  );

export const choice = <const T extends string>(...choices: readonly T[]) =>
  textField<T>(orWords(choices), (text) => {
    const found = choices.find((known) => known === text);
    return found ?? { refused: `${quoted(text)} is none of the choices.` };
  });

type Range = { readonly from?: number; readonly to?: number; readonly says?: string };

/** A figure with its unit, or one of the words that may stand for it. The value is in SI units. */
export const quantity = <const W extends string = never>(
  kind: QuantityKind,
  { from = 0, to = 1e7, says = '' }: Range = {},
  ...orWord: readonly W[]
) => {
  const accepts = withWords(says === '' ? QUANTITY_ACCEPTS[kind] : says, orWord);
  return textField<number | W>(accepts, (text) => {
    const word = orWord.find((known) => known === text);
    if (word !== undefined) return word;
    const read = parseQuantity(text, kind);
    if (!read.ok) return { refused: firstSentence(read) };
    if (read.value < from || read.value > to) return { refused: `${quoted(text)} is out of range.` };
    return read.value;
  });
};

function withWords(figure: string, words: readonly string[]): string {
  return words.length === 0 ? figure : `${figure}; or ${orWords(words)}`;
}

const QUANTITY_ACCEPTS: Record<QuantityKind, string> = {
  ohms: 'ohms with a unit, such as 2k2 or 2.2 kohm',
  volts: 'volts with a unit, such as 12 V',
  amps: 'amps with a unit, such as 15 mA or 0.75 A',
  metres: 'a length with a unit, such as 14 m, 46 ft or 150 mm',
  ampHours: 'a capacity with a unit, such as 7 Ah',
  seconds: 'a time with a unit, such as 12 h, 15 min or 300 ms',
  celsius: 'a temperature with a unit, such as 20 °C',
  fraction: 'a percentage, such as 5 %',
  squareMillimetres: 'an area with a unit, such as 0.22 mm2',
};

const CONDUCTOR_ACCEPTS = 'a size such as 22 AWG or 0.22 mm2';

export const conductor = <const W extends string = never>(...orWord: readonly W[]) =>
  textField<Conductor | W>(withWords(CONDUCTOR_ACCEPTS, orWord), (text) => {
    const word = orWord.find((known) => known === text);
    if (word !== undefined) return word;
    const read = parseConductor(text);
    return read.ok ? read.value : { refused: firstSentence(read) };
  });

/** A whole number that is counted, such as an importance. */
export const count = (from: number, to: number) =>
  textField<number>(`a whole number from ${from} to ${to}`, (text) =>
    /^\d{1,3}$/.test(text) && Number(text) >= from && Number(text) <= to
      ? Number(text)
      : { refused: `${quoted(text)} is no such number.` },
  );

/** A group of fields, or one of the words that may stand for it. `like` shows a group. */
export const partOr = <T extends z.ZodMiniType, const W extends string>(
  part: T,
  like: string,
  ...orWord: W[]
) =>
  z.union([
    textField<W>(orWords([...orWord, like]), (text) => {
      const word = orWord.find((known) => known === text);
      return word ?? { refused: `${quoted(text)} is neither a group of fields nor a word known here.` };
    }),
    part,
  ]);

/** A list, empty when it is left out. */
export const list = <T extends z.ZodMiniType>(of: T) => z._default(z.optional(z.array(of)), []);

/** Checks what was written against a schema; answers the value, or every problem in it. */
export function checkFields<T extends z.ZodMiniType>(
  schema: T,
  document: ReadDocument,
): { readonly value: z.output<T> | null; readonly problems: Problem[] } {
  const checked = schema.safeParse(document.written);
  const issues = checked.success
    ? []
    : checked.error.issues.flatMap((issue) => troublesOf(issue, schema, document.written));
  const problems = [...document.troubles, ...issues].map(document.problem);
  return { value: checked.success && problems.length === 0 ? checked.data : null, problems };
}

function troublesOf(issue: z.core.$ZodIssue, schema: z.core.$ZodType, written: Written): Trouble[] {
  const at = issue.path as Path;
  if (issue.code === 'unrecognized_keys') {
    const known = groupAt(schema, at);
    const accepts = known.length === 0 ? 'only what the format has here' : `the fields ${known.join(' ')}`;
    return issue.keys.map((key) => ({ at: [...at, key], says: 'This field is not known here.', accepts }));
  }
  if (issue.code === 'custom') {
    return [{ at, says: issue.message, accepts: String(issue.params?.accepts ?? '') }];
  }
  if (issue.code === 'invalid_union') {
    const nearest = [...issue.errors].sort((a, b) => depth(b) - depth(a))[0] ?? [];
    return nearest.flatMap((inner) =>
      troublesOf({ ...inner, path: [...issue.path, ...inner.path] }, schema, written),
    );
  }
  const known = groupAt(schema, at);
  const group = known.length === 0 ? 'a group of fields' : `a group of the fields ${known.join(' ')}`;
  const accepts = issue.code === 'invalid_type' && issue.expected === 'array' ? 'a list' : group;
  const says = isMissing(written, at) ? 'This field is missing.' : 'What stands here has another shape.';
  return [{ at, says, accepts }];
}

function isMissing(written: Written, at: Path): boolean {
  let here: unknown = written;
  for (const step of at) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return true;
    here = (here as Record<string | number, unknown>)[step];
  }
  return false;
}

/** The fields that a schema knows at a place. */
function groupAt(schema: z.core.$ZodType, at: Path): string[] {
  if (schema instanceof z.ZodMiniOptional || schema instanceof z.ZodMiniDefault) {
    return groupAt(schema.def.innerType, at);
  }
  if (schema instanceof z.ZodMiniUnion) return schema.def.options.flatMap((option) => groupAt(option, at));
  const [step, ...below] = at;
  if (schema instanceof z.ZodMiniArray) return step === undefined ? [] : groupAt(schema.def.element, below);
  if (!(schema instanceof z.ZodMiniObject)) return [];
  if (step === undefined) return Object.keys(schema.shape);
  const field: z.core.$ZodType | undefined = schema.shape[step];
  return field === undefined ? [] : groupAt(field, below);
}

/** The branch of a choice between shapes that got furthest is the one that was meant. */
function depth(issues: readonly z.core.$ZodIssue[]): number {
  return Math.max(0, ...issues.map((issue) => issue.path.length * 10 - issues.length));
}

function firstSentence(refusal: Parsed<unknown>): string {
  const says = refusal.ok ? '' : refusal.says;
  const end = says.lastIndexOf('. Write ');
  return end < 0 ? says : says.slice(0, end + 1);
}

/** A text in quotes as a problem shows it, cut at 40 characters. */
function quoted(text: string): string {
  return JSON.stringify(text.length > 40 ? `${text.slice(0, 40)}…` : text);
}
