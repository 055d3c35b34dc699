// The small face of zod: it is loaded for every action, and half of a start would go into the full one.
import * as z from 'zod/mini';
import type { Action } from './action.ts';
import { WENT } from './acts-done.ts';

// An action is checked once: to compile its schema to code first takes longer.
z.config({ jitless: true });

const LONGEST_TEXT = 2000;
const LONGEST_WORD = 200;
/** A card about a thousand conductors, each with what was measured at it. */
const MOST_VALUES = 5000;

// Escape sequences and text that runs backwards would let a note disguise what a terminal shows of the record.
const DISGUISE =
  /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ufeff]/;

function words(longest: number, isNeeded = true) {
  return z.pipe(
    z.string().check(
      z.maxLength(longest, `is longer than ${longest} characters`),
      z.refine((text) => !/\p{Surrogate}/u.test(text), 'holds half a character'),
      z.refine((text) => !DISGUISE.test(text), 'holds control characters'),
      z.refine((text) => !isNeeded || text.trim() !== '', 'is empty'),
    ),
    z.transform((text: string) => text.trim()),
  );
}
const text = words(LONGEST_TEXT);
const word = words(LONGEST_WORD);

/** A bare number takes the unit of its field, whether it was quoted or not. */
const readingOf = () => z.union([words(LONGEST_TEXT, false), z.pipe(z.number(), z.transform(String))]);

/** What was entered in a step's fields: a reading each, or the worst of a sweep. */
function values() {
  const reading = readingOf();
  const sweep = z.strictObject({
    greatest: reading,
    at: words(LONGEST_WORD, false),
    points: z.int().check(z.minimum(0), z.maximum(9999)),
  });
  return z
    .record(z.string().check(z.maxLength(LONGEST_WORD)), z.union([reading, sweep]))
    .check(
      z.refine((given) => Object.keys(given).length <= MOST_VALUES, `holds more than ${MOST_VALUES} values`),
    );
}

/** What was heard for the fields that observe an input: nothing of what a board wrote is in it. */
function heard() {
  const one = z.strictObject({
    state: z.enum(['open', 'closed', 'nothing']),
    at: z.nullable(z.iso.datetime()),
    others: z.array(z.string().check(z.regex(INPUT_ID))).check(z.maxLength(64)),
    changes: whole(1_000_000),
    deafSeconds: whole(1_000_000),
  });
  const field = z.string().check(z.maxLength(LONGEST_WORD));
  return z
    .record(field, one)
    .check(
      z.refine((given) => Object.keys(given).length <= MOST_VALUES, `holds more than ${MOST_VALUES} values`),
    );
}

const INPUT_ID = /^[\w-]{1,24}\/[\w .-]{1,24}$/;
const whole = (most: number) => z.int().check(z.minimum(0), z.maximum(most));

/** People also write a name alone, or names by role: `{"installer": "..."}`. */
function spelledOut(given: unknown): unknown {
  if (Array.isArray(given)) return given.map((one) => (typeof one === 'string' ? { name: one } : one));
  if (typeof given !== 'object' || given === null) return given;
  return Object.entries(given).map(([role, name]) => ({ role, name }));
}

const always = { by: z.optional(word), acknowledge: z.optional(z.array(word).check(z.maxLength(20))) };

/** The fields of each action: described when it comes, for no more than one comes in most runs. */
const ACTIONS = {
  'start-shift': () => ({ name: word, instrument: word, zero: z.optional(readingOf()) }),
  begin: () => ({ step: word }),
  confirm: () => ({ step: word, values: values(), heard: z.optional(heard()) }),
  fail: () => ({ step: word, reason: text }),
  deviate: () => {
    const said = z.strictObject({ act: word, how: z.enum(WENT) });
    return {
      step: word,
      reason: text,
      residualRisk: text,
      acts: z.optional(z.array(said).check(z.maxLength(2000))),
    };
  },
  reopen: () => ({ step: word, reason: text }),
  correct: () => ({
    reason: text,
    seen: z.optional(text),
    set: z.array(z.strictObject({ path: word, value: z.json() })).check(z.minLength(1), z.maxLength(50)),
  }),
  doubt: () => ({}),
  away: () => ({ where: word, forTime: word }),
  pause: () => ({ reason: text }),
  leave: () => ({ values: values() }),
  note: () => ({ text, step: z.optional(word) }),
  photo: () => ({ path: words(4096, false), step: z.optional(word) }),
  close: () => {
    const signature = z.strictObject({ name: word, role: z._default(word, 'signed') });
    const signatures = z.array(signature).check(z.minLength(1), z.maxLength(10));
    return { signatures: z.pipe(z.transform(spelledOut), signatures) };
  },
} as const satisfies Record<Action['do'], () => z.core.$ZodShape>;

/** An action, or in a sentence why what was given is none. */
type ParsedAction =
  | { readonly ok: true; readonly action: Action }
  | { readonly ok: false; readonly says: string };

/**
 * Whether this is one of the actions a job takes, field by field. It says nothing of whether the action may be
 * done now.
 *
 * @example parseAction({ do: 'doubt' }) // => { ok: true, action: { do: 'doubt' } }
 */
export function parseAction(given: unknown): ParsedAction {
  const names = Object.keys(ACTIONS).join(', ');
  if (typeof given !== 'object' || given === null || Array.isArray(given)) {
    return { ok: false, says: 'An action is a JSON object. Give one like {"do": "begin", "step": "..."}.' };
  }
  const does = Object.hasOwn(given, 'do') ? (given as { do: unknown }).do : undefined;
  if (typeof does !== 'string' || !Object.hasOwn(ACTIONS, does)) {
    return { ok: false, says: `The field "do" names no action. Give one of: ${names}.` };
  }
  const shape: z.core.$ZodShape = ACTIONS[does as Action['do']]();
  const parsed = z.strictObject({ do: z.literal(does), ...always, ...shape }).safeParse(given);
  if (parsed.success) return { ok: true, action: parsed.data as unknown as Action };
  const takes = Object.keys(shape).join(', ') || 'nothing more';
  return { ok: false, says: `${faults(parsed.error)} ${does} takes: ${takes}.` };
}

function faults(error: z.core.$ZodError): string {
  return error.issues
    .slice(0, 5)
    .map((issue) => {
      const field = issue.path.map(String).join('.');
      if (issue.code === 'unrecognized_keys')
        return `There is no field ${issue.keys.map((key) => JSON.stringify(key.slice(0, 60))).join(', ')} here.`;
      const what = /^(is|holds)\b/.test(issue.message)
        ? issue.message
        : 'is missing or not of the right kind';
      return `The field ${JSON.stringify(field.slice(0, 100))} ${what}.`;
    })
    .join(' ');
}
