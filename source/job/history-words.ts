import { formatQuantity } from '../electrical/quantity-words.ts';
import type { JsonObject } from '../journal/canonical.ts';
import type { JournalRecord } from '../journal/record.ts';
import { sayActDone } from '../procedure/act-words.ts';
import { NOWHERE } from '../procedure/judge.ts';
import { actsIn, WENT, WENT_WORDS } from './acts-done.ts';
import { sayHeard } from './hearing/say-heard.ts';
import { isObject, type RecordedValue, textOf, valueNamed } from './records.ts';

type Told = {
  readonly record: JournalRecord;
  readonly data: JsonObject;
  /** Title of the step it is about, or its id where the title is not known. */
  readonly step: string;
  readonly nameOf: (person: string) => string;
};

/** What a record tells, in one line. `data` may be redacted: what is left out is not told. */
export function sayRecord(told: Told): string {
  const say = SAYS[told.record.kind];
  return say ? say(told) : `Of a kind that this version does not know: ${told.record.kind}`;
}

const WHY: Readonly<Record<string, string>> = {
  person: 'another person came',
  gap: 'nothing was recorded for longer than the policy allows',
  clock: 'a clock was set',
  boot: 'the computer was started anew',
};

/** What broke a sitting, as it is told in the record and before the next action. */
export function sayBreak({ why, gapSeconds }: { readonly why: string; readonly gapSeconds: number }): string {
  const after = `${sayGap(gapSeconds)} after the last record.`;
  // Whoever opens the job again has broken nothing.
  if (why === 'new-sitting' && gapSeconds < 60) return 'A sitting began.';
  return why === 'new-sitting'
    ? `A new sitting began, ${after}`
    : `Sitting broken: ${WHY[why] ?? why}, ${after}`;
}

const SAYS: Readonly<Record<string, (told: Told) => string>> = {
  open: ({ data }) => (data.continues === undefined ? 'Job opened' : 'The record goes on in a new file'),
  basis: ({ data }) => `Stored: ${data.part}, piece ${data.piece} of ${data.of}`,
  begin: ({ step }) => `Begun: ${step}`,
  act: (told) => (ACTS[String(told.data.do)] ?? (() => String(told.data.do)))(told),
  refused: ({ data, step }) => `Refused: ${data.do}${step ? ` ${step}` : ''} (${listOf(data.because)})`,
  interrupted: ({ data }) => sayBreak({ why: String(data.why), gapSeconds: Number(data.gapSeconds ?? 0) }),
  here: () => 'Somebody is at the keys',
  correct: ({ data }) => `Survey corrected${reason(data)}${openedIn(data)}`,
  clock: ({ data }) =>
    data.looksLike === 'sleep' ? 'The computer slept' : `The clock was set by ${Number(data.jump) / 1000} s`,
  checkpoint: () => 'Head handed out',
  'disk-full': () => 'The disk was full; the reserve was given up',
  repair: ({ data }) => `An unfinished record was put aside: ${data.dropped} bytes`,
  seal: ({ data }) => `Sealed with ${data.count} records`,
  note: ({ data }) => `Note${data.text === undefined ? '' : `: ${data.text}`}`,
  photo: ({ data }) => `File ${textOf(data.path) ?? ''} attached, ${data.bytes} bytes`,
};

const ACTS: Readonly<Record<string, (told: Told) => string>> = {
  'start-shift': ({ data, nameOf }) => {
    const instrument = textOf(data.instrument);
    const leads =
      typeof data.zeroMilliohms === 'number'
        ? `, its leads ${formatQuantity(data.zeroMilliohms / 1000, 'ohms')}`
        : '';
    return `Working now: ${nameOf(String(data.by))}${instrument === null ? '' : `, with ${instrument}`}${leads}`;
  },
  confirm: (told) =>
    `${OUTCOMES[String(told.data.outcome)] ?? told.data.outcome}${isOdd(told.data) ? ', not as expected' : ''}: ${told.step}${valuesOf(told)}`,
  fail: ({ data, step }) => `Cannot pass: ${step}${reason(data)}`,
  deviate: ({ data, step }) => {
    const risk = textOf(data.residualRisk);
    return `Deviated from: ${step}${reason(data)}${risk === null ? '' : `; residual risk: ${risk}`}${actsOf(data)}`;
  },
  reopen: ({ data, step }) => `Reopened: ${step}${reason(data)}`,
  doubt: () => 'Doubt: dead is to be proved again',
  pause: ({ data }) => `Paused${reason(data)}`,
  leave: (told) => `Left for the night${valuesOf(told)}`,
  away: ({ data }) => {
    const where = textOf(data.where);
    return `Out of reach${where === null ? '' : ` (${where})`} for up to ${sayGap(Number(data.seconds))}`;
  },
  close: () => 'Job closed',
};

const OUTCOMES: Readonly<Record<string, string>> = {
  passed: 'Passed',
  failed: 'FAILED',
  recorded: 'Recorded',
};

/** How far a card was done that was given up. */
function actsOf({ acts }: JsonObject): string {
  const all = actsIn(acts) ?? [];
  return WENT.flatMap((went) => {
    const these = all.filter((one) => one.went === went).map(({ act }) => sayActDone(act));
    return these.length === 0 ? [] : [`; ${WENT_WORDS[went]}: ${these.join(', ')}`];
  }).join('');
}

/** Whether a figure was taken that is usable, and still not what was expected. */
function isOdd({ outcome, values }: JsonObject): boolean {
  return (
    outcome === 'passed' &&
    isObject(values) &&
    Object.values(values).some((value) => isObject(value) && value.verdict === 'unexpected')
  );
}

/** The gates that a correction took away, and what was seen there. */
function openedIn({ opened, seen }: JsonObject): string {
  if (!Array.isArray(opened) || opened.length === 0) return '';
  const gates = opened.filter(isObject).map(({ field, was, now }) => `${field} from ${was} to ${now}`);
  const told = textOf(seen);
  return `; it took a gate away: ${gates.join(', ')}${told === null ? '' : `; seen: ${told}`}`;
}

function reason(data: JsonObject): string {
  const why = textOf(data.reason);
  return why === null ? '' : `: ${why}`;
}

function valuesOf({ data, nameOf }: Pick<Told, 'data' | 'nameOf'>): string {
  if (!isObject(data.values)) return '';
  const told = Object.entries(data.values).map(
    ([field, value]) => `${field} ${sayValue(valueNamed(value as unknown as RecordedValue, nameOf))}`,
  );
  return told.length === 0 ? '' : ` - ${told.join('; ')}`;
}

/** What was typed for a field, with the unit it was taken in where none was typed, and what was heard for it. */
export function sayValue(value: RecordedValue): string {
  const bare = value.unit !== null && /^[-+\d.,\s]+$/.test(value.typed) ? ` ${value.unit}` : '';
  const where = value.at === NOWHERE ? '' : ` at ${value.at}`;
  const sweep = value.at === undefined ? '' : `${where}, ${value.points} points`;
  const mark = { passed: '', unexpected: ' (unexpected)', failed: ' (FAILED)', recorded: '' }[value.verdict];
  const heard = value.heard === undefined ? '' : ` (${sayHeard(value.heard, sayMoment)})`;
  return `${value.typed}${bare}${sweep}${mark}${heard}`;
}

const sayMoment = (at: string) => `${at.slice(11, 19)} UTC`;

/** A length of time in the two largest units that fit. */
function sayGap(seconds: number): string {
  if (seconds < 60) return `${Math.round(seconds)} s`;
  const minutes = Math.round(seconds / 60);
  if (minutes < 60) return `${minutes} min`;
  const hours = Math.floor(minutes / 60);
  if (hours < 48) return minutes % 60 === 0 ? `${hours} h` : `${hours} h ${minutes % 60} min`;
  return hours % 24 === 0 ? `${hours / 24} days` : `${Math.floor(hours / 24)} days ${hours % 24} h`;
}

function listOf(value: unknown): string {
  return Array.isArray(value) ? value.join(', ') : '';
}
