import { spanWords } from '../electrical/window-words.ts';
import type { HeardAnswer } from './hearing/hearing.ts';
import { sayHeard } from './hearing/say-heard.ts';
import type { HistoryEntry } from './history.ts';

/** What the record keeps for replay only: the first line of a detail, or another member, says the same in words. */
const SAID_ELSEWHERE: ReadonlySet<string> = new Set(['boot', 'by', 'event', 'uptime']);

/** Everything in an entry that a person asks for, in lines, and how it sits in the chain; `--json` gives the bare data. */
export function detailOf(entry: HistoryEntry): string[] {
  const members = Object.entries(entry.data).flatMap(([key, value]) =>
    SAID_ELSEWHERE.has(key) ? [] : memberLines(key, value),
  );
  const chain = [`follows ${entry.prev}`, `digest ${entry.sha256}`];
  return [`record ${entry.n}, ${entry.kind}, ${entry.at}`, entry.says, ...members, ...chain];
}

function memberLines(key: string, value: unknown): string[] {
  if (key === 'values' && isObject(value))
    return Object.entries(value).map(([field, held]) => answerLine(field, held));
  if (Array.isArray(value)) return value.map((one) => `${key}: ${itemSays(one)}`);
  if (isObject(value))
    return Object.entries(value).map(([inner, held]) => `${key}, ${inner}: ${plain(held)}`);
  return value === null ? [] : [`${key}: ${plain(value)}`];
}

/** An answer as it was typed, how it was judged, and the window that judged it. */
function answerLine(field: string, value: unknown): string {
  if (!isObject(value)) return `${field}: ${plain(value)}`;
  const { typed, verdict, window, unit } = value;
  const judged = typeof verdict === 'string' ? `, ${verdict}` : '';
  const heard = isObject(value.heard) ? `, ${sayHeard(value.heard as HeardAnswer, (at) => at)}` : '';
  return `${field}: ${plain(typed ?? value)}${judged}${windowSays(window, unit)}${heard}`;
}

function windowSays(window: unknown, unit: unknown): string {
  if (!isObject(window)) return '';
  const of = (milli: unknown) => (typeof milli === 'number' ? milli / 1000 : null);
  const kind = unit === 'ohm' ? 'ohms' : unit === 'A' ? 'amps' : 'volts';
  const span = spanWords(of(window.min), of(window.max), kind);
  return span === '' ? '' : `, expected ${span}`;
}

function itemSays(value: unknown): string {
  return isObject(value) && typeof value.says === 'string' ? value.says : plain(value);
}

function isObject(value: unknown): value is Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function plain(value: unknown): string {
  return typeof value === 'string' ? value : JSON.stringify(value);
}
