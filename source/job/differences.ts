import { isLoose } from '../wiring/bench.ts';
import type { FittedResistor, Wiring } from '../wiring/wiring.ts';
import { actsInOrder, subjectsOf, type Went } from './acts-done.ts';
import { terminalOf } from './as-it-is.ts';
import type { StepResult } from './records.ts';

/** One thing that is not as it was planned. */
export type Difference = {
  readonly kind: 'wire' | 'resistor' | 'source' | 'other';
  /** Its name: a wire, a resistor, a source, or what was to be taken away. */
  readonly subject: string;
  /** Where or how it was to be, and is; null where it was to be there no more, or is not; `unknown` where nobody can say. */
  readonly planned: string | null;
  readonly is: string | null;
  /** The record that says so, with its reason and its risk; null where none does. */
  readonly record: number | null;
};

/** What is not as it was to be by now, item by item, with the record that says why. */
export function differencesOf(
  planned: Wiring,
  now: Wiring,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Difference[] {
  const record = recordsOfWhatIsNotDone(results);
  const found: Omit<Difference, 'record'>[] = [
    ...wires(planned, now),
    ...resistors(planned, now),
    ...inOneOnly('source', planned.isolated, now.isolated, 'off', 'on'),
    ...inOneOnly('other', planned.removed, now.removed, 'taken away', 'there'),
    ...inOneOnly('other', linksOf(planned), linksOf(now), 'linked', 'not linked'),
    ...unmounted(results),
  ];
  return found.map((one) => {
    const said = record.get(one.subject);
    // Of a wire that nobody can say of, its place says so.
    const is = said?.went === 'unknown' && one.kind !== 'wire' ? 'unknown' : one.is;
    return { ...one, is, record: said?.n ?? null };
  });
}

function recordsOfWhatIsNotDone(
  results: ReadonlyMap<string, readonly StepResult[]>,
): Map<string, { readonly n: number; readonly went: Went }> {
  const found = new Map<string, { readonly n: number; readonly went: Went }>();
  for (const { n, act, went } of actsInOrder(results))
    if (went !== 'done') for (const subject of subjectsOf(act)) found.set(subject, { n, went });
  return found;
}

function wires(planned: Wiring, now: Wiring): Omit<Difference, 'record'>[] {
  const nearOf = new Map(planned.conductors.map(({ id, near }) => [id, near]));
  return now.conductors.flatMap(({ id, near }) => {
    const before = nearOf.get(id);
    if (before === undefined || terminalOf(before) === terminalOf(near) || (isLoose(before) && isLoose(near)))
      return [];
    return [{ kind: 'wire' as const, subject: id, planned: before, is: near }];
  });
}

function resistors(planned: Wiring, now: Wiring): Omit<Difference, 'record'>[] {
  const [before, after] = [planned, now].map((one) => new Map(one.resistors.map((part) => [part.id, part])));
  const ids = [...new Set([...before!.keys(), ...after!.keys()])];
  return ids.flatMap((subject) => {
    const [was, is] = [before!.get(subject), after!.get(subject)].map(standsAs);
    return was === is ? [] : [{ kind: 'resistor' as const, subject, planned: was ?? null, is: is ?? null }];
  });
}

/** A resistor by its value and place: `2200 panel`, `unknown unknown`. */
function standsAs(part: FittedResistor | undefined): string | null {
  if (part === undefined) return null;
  const { ohms, place } = part;
  return `${ohms} ${place === null ? 'unknown' : typeof place === 'string' ? place : place.detector}`;
}

/** Terminals that are linked, `b1:C1-C2`; a jumper that is set through is told with its resistor. */
function linksOf({ links }: Wiring): string[] {
  return links.flatMap(({ id, kind }) => (kind === 'wire' ? [id.replace(/^link:/, '')] : []));
}

/** Boards that were to be mounted, and are not. */
function unmounted(results: ReadonlyMap<string, readonly StepResult[]>): Omit<Difference, 'record'>[] {
  const last = new Map<string, Went>();
  for (const { act, went } of actsInOrder(results)) if (act.do === 'mount') last.set(act.board, went);
  return [...last]
    .filter(([, went]) => went !== 'done')
    .map(([subject]) => ({ kind: 'other', subject, planned: 'mounted', is: 'not mounted' }));
}

function inOneOnly(
  kind: Difference['kind'],
  planned: readonly string[],
  now: readonly string[],
  inIt: string,
  notInIt: string,
): Omit<Difference, 'record'>[] {
  return [...new Set([...planned, ...now])]
    .filter((subject) => planned.includes(subject) !== now.includes(subject))
    .map((subject) => {
      const [was, is] = [planned, now].map((one) => (one.includes(subject) ? inIt : notInIt));
      return { kind, subject, planned: was ?? null, is: is ?? null };
    });
}
