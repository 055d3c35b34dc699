import { Ending } from './exit.ts';

/** The most names that are listed where none is near. */
const MOST_LISTED = 24;

/**
 * The name that somebody meant who typed another one: the one that takes the fewest letters inserted, left out, changed or
 * swapped with their neighbour (optimal string alignment), if they are few for its length; or one that begins so.
 *
 * @example nearest('hisotry', ['history', 'verify']) // => 'history'
 */
export function nearest(typed: string, known: Iterable<string>): string | null {
  const word = typed.toLowerCase();
  let best: string | null = null;
  let fewest = Number.POSITIVE_INFINITY;
  for (const name of known) {
    const other = name.toLowerCase();
    const begins = word.length >= 2 && (other.startsWith(word) || word.startsWith(other)) ? 1 : null;
    const edits = begins ?? editsBetween(word.slice(0, 60), other.slice(0, 60));
    if (edits <= Math.max(1, Math.floor(other.length / 3)) && edits < fewest) {
      fewest = edits;
      best = name;
    }
  }
  return best;
}

/** How a command ends over a name that nothing has: with the nearest, or with all there are. `what`: `zone`, `setting`. */
export function unknownName(what: string, typed: string, known: readonly string[]): Ending {
  const meant = nearest(typed, known);
  const listed = known.slice(0, MOST_LISTED).join(', ');
  const more = known.length > MOST_LISTED ? ` and ${known.length - MOST_LISTED} more` : '';
  const there = known.length === 0 ? `There is no ${what} at all.` : `There are: ${listed}${more}.`;
  return new Ending(
    'usage',
    `There is no ${what} ${typed}. ${meant === null ? there : `Did you mean ${meant}?`}`,
  );
}

function editsBetween(a: string, b: string): number {
  let before: number[] = [];
  let row = Array.from({ length: b.length + 1 }, (_, at) => at);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = a[i - 1] === b[j - 1] ? 0 : 1;
      next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + change);
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1])
        next[j] = Math.min(next[j]!, before[j - 2]! + 1);
    }
    before = row;
    row = next;
  }
  return row[b.length]!;
}
