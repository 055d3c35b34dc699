import { spanWords } from '../electrical/window-words.ts';
import { sayValue } from '../job/history-words.ts';
import type { RecordedValue } from '../job/records.ts';
import { sayFall } from '../procedure/fall-words.ts';
import type { Answer, Collected, Entry } from './collect.ts';

const KIND_OF_UNIT = { ohm: 'ohms', V: 'volts', A: 'amps' } as const;

/** An answer as people read it: the label of a choice, a figure with its unit, a text as it was typed. */
export function answerWords({ proof, value }: Answer): string {
  if (value.kind === 'choice' && proof?.kind === 'choice') {
    return proof.options.find((option) => option.id === value.typed)?.label ?? value.typed;
  }
  return sayValue({ ...value, verdict: 'passed' });
}

/** The window a value was judged by: `1.9 to 4.8 Ω`, `open`, or nothing where nothing was expected. */
export function windowWords(value: RecordedValue): string {
  const { window, unit } = value;
  if (window === null || unit === null) return '';
  const of = (milli: number | null) => (milli === null ? null : milli / 1000);
  const { min, max, usableMin, usableMax } = window;
  const kind = KIND_OF_UNIT[unit];
  if (min === null && max === null && usableMin !== null && usableMax === null)
    return `open, ${spanWords(of(usableMin), null, kind)}`;
  return spanWords(of(min), of(max), kind);
}

/** Where the record's words and figures stand for one value, with what was expected and how it fell. */
export function readingWords(answer: Answer): string {
  const expected = windowWords(answer.value);
  return `${answerWords(answer)}${expected === '' ? '' : ` (expected ${expected})`}${fallWords(answer.value)}`;
}

/** What was found, and how it fell, for where the window stands beside it. */
export function foundWords(answer: Answer): string {
  return `${answerWords(answer)}${fallWords(answer.value)}`;
}

function fallWords(value: RecordedValue): string {
  if (value.verdict === 'failed') return ', FAILED';
  const is = value.fall ?? fallOfEarlier(value);
  return is === 'usable' || is === 'induced' || is === 'odd' || is === 'live' ? `, ${sayFall({ is })}` : '';
}

/** A record of an earlier version says its verdict alone; its window tells the rest. */
function fallOfEarlier(value: RecordedValue): 'usable' | 'odd' | null {
  if (value.verdict === 'unexpected') return 'usable';
  return value.verdict === 'recorded' && isOutside(value) ? 'odd' : null;
}

function isOutside({ milli, open, window }: RecordedValue): boolean {
  if (window === null) return false;
  if (open) return window.max !== null;
  return milli !== null && (milli < (window.min ?? milli) || milli > (window.max ?? milli));
}

/** Entries of steps whose id is, or begins with, what is given. */
export function entriesOf(collected: Collected, step: string): Entry[] {
  return collected.entries.filter((entry) => entry.stepId === step || entry.stepId.startsWith(`${step}.`));
}

/** The last answer that was given to a field of a step and stands, in words; null where there is none. */
export function lastAnswer(collected: Collected, step: string, field: string): string | null {
  const entry = entriesOf(collected, step).findLast(
    (one) => one.did === 'confirm' && one.outcome !== 'failed' && one.answers.some((a) => a.field === field),
  );
  const answer = entry?.answers.find((a) => a.field === field);
  return answer === undefined ? null : answerWords(answer);
}

/**
 * A time of the record in the zone in which the job was opened, with its offset, the same on every machine.
 *
 * @example
 * timeWords('2026-05-04T08:00:00.000Z', 'UTC') // => '2026-05-04 08:00:00 +00:00'
 */
export function timeWords(at: string, timeZone: string): string {
  const parts = Object.fromEntries(
    clockOf(timeZone)
      .formatToParts(new Date(at))
      .map(({ type, value }) => [type, value]),
  );
  const offset = parts.timeZoneName?.replace('GMT', '') || '+00:00';
  return `${parts.year}-${parts.month}-${parts.day} ${parts.hour}:${parts.minute}:${parts.second} ${offset}`;
}

/**
 * The same for programs, to the millisecond (ISO 8601).
 *
 * @example
 * timeStamp('2026-05-04T08:00:00.275Z', 'UTC') // => '2026-05-04T08:00:00.275+00:00'
 */
export function timeStamp(at: string, timeZone: string): string {
  const [date, time, offset] = timeWords(at, timeZone).split(' ');
  return `${date}T${time}.${String(new Date(at).getUTCMilliseconds()).padStart(3, '0')}${offset}`;
}

/** Making one takes a hundred times as long as using it, and a record holds hundreds of times. */
const CLOCKS = new Map<string, Intl.DateTimeFormat>();

function clockOf(timeZone: string): Intl.DateTimeFormat {
  const clock =
    CLOCKS.get(timeZone) ??
    new Intl.DateTimeFormat('en-GB', {
      timeZone,
      hourCycle: 'h23',
      year: 'numeric',
      month: '2-digit',
      day: '2-digit',
      hour: '2-digit',
      minute: '2-digit',
      second: '2-digit',
      timeZoneName: 'longOffset',
    });
  CLOCKS.set(timeZone, clock);
  return clock;
}
