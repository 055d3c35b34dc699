import { cut, wrap } from '../../plan/text/layout.ts';
import { plain } from '../plain.ts';
import type { DrawnConductor, DrawnPosition, DrawnResistor, DrawnStrip } from './strip.ts';

/** Of the drawing, in its own units; a phone shows them as they are, a laptop and A4 two beside each other. */
export const WIDTH = 372;
/** Where the words beside a conductor begin. */
export const WORDS_AT = 176;
/** Width of a character of the drawing's monospaced type of 11 units; no common one is wider. */
const CHARACTER = 6.65;

export const LINE = 12.5;
const GAP = 5;
/** More would not fit on a page of A4 that holds two drawings beside each other. */
const TALLEST = 760;

/** One conductor or resistor with its place: `y` of its line, the words beside it line by line. */
export type LaidRow = {
  readonly y: number;
  readonly item: DrawnConductor | DrawnResistor;
  /** The first stands out: number and colour, or the value. */
  readonly words: readonly string[];
};

export type LaidPosition = {
  readonly id: string;
  readonly shape: DrawnPosition['shape'];
  readonly top: number;
  readonly height: number;
  readonly role: readonly string[];
  readonly rows: readonly LaidRow[];
};

/** A drawing that fits on a page. */
export type LaidStrip = {
  readonly title: string;
  readonly height: number;
  readonly positions: readonly LaidPosition[];
  /** Everything in it in words, nothing shortened. */
  readonly says: string;
};

/** A strip laid out: as many drawings as it takes for each to fit on a page, none parting a conductor from its words. */
export function layStrip(strip: DrawnStrip): LaidStrip[] {
  const pages: DrawnPosition[][] = [[]];
  let filled = 0;
  for (const position of strip.positions.flatMap(shortEnough)) {
    const { height } = layPosition(position, 0);
    if (filled > 0 && filled + height > TALLEST) {
      pages.push([]);
      filled = 0;
    }
    pages.at(-1)!.push(position);
    filled += height;
  }
  return pages.map((positions, index) => {
    let top = 1;
    const laid = positions.map((position) => {
      const one = layPosition(position, top);
      top += one.height;
      return one;
    });
    const title = index === 0 ? strip.title : `${strip.title}, continued`;
    return { title, height: top + 1, positions: laid, says: positions.map(sayPosition).join('. ') };
  });
}

/** A position in words. */
function sayPosition({ id, role, holds }: DrawnPosition): string {
  const name = [id, role === '' ? '' : id === '' ? role : `(${role})`]
    .filter((part) => part !== '')
    .join(' ');
  return `${plain(name)}: ${holds.length === 0 ? 'nothing' : holds.map(sayItem).join('; ')}`;
}

/** A conductor or resistor in words. */
export function sayItem(item: DrawnConductor | DrawnResistor): string {
  if (item.kind === 'resistor') return plain(`${item.value}, ${item.says}`);
  const through = item.resistor === null ? '' : `through ${item.resistor}`;
  return plain([`${item.id} ${item.colour}`, item.serves, through, item.by ?? ''].filter(Boolean).join(', '));
}

const MOST_ROWS = 18;

function shortEnough(position: DrawnPosition): DrawnPosition[] {
  const parts = Math.max(1, Math.ceil(position.holds.length / MOST_ROWS));
  return Array.from({ length: parts }, (_, part) => ({
    ...position,
    role: part === 0 ? position.role : `${position.role} continued`.trim(),
    holds: position.holds.slice(part * MOST_ROWS, (part + 1) * MOST_ROWS),
  }));
}

function layPosition({ id, shape, role, holds }: DrawnPosition, top: number): LaidPosition {
  const roles = lines(role, WIDTH - 62, 2);
  let y = top + GAP + roles.length * LINE;
  const rows = holds.map((item): LaidRow => {
    const words =
      item.kind === 'resistor'
        ? [cut(item.value, 26), ...lines(item.says, WIDTH - WORDS_AT, 2)]
        : [
            cut(plain(`${item.id} ${item.colour}`), columns(WIDTH - WORDS_AT)),
            ...lines(item.serves, WIDTH - WORDS_AT, 2),
          ];
    const row = { y: y + LINE / 2, item, words };
    // Below the line stands what is in it: the value of a resistor, how it is landed.
    y += LINE * Math.max(words.length, item.kind === 'conductor' && (item.resistor || item.by) ? 2 : 1) + GAP;
    return row;
  });
  return { id: cut(plain(id), 7), shape, top, height: Math.max(y - top, LINE + 2 * GAP), role: roles, rows };
}

const columns = (units: number) => Math.floor(units / CHARACTER);

function lines(text: string, units: number, most: number): string[] {
  const all = wrap(plain(text), columns(units));
  if (all.length <= most) return all;
  return [...all.slice(0, most - 1), cut(`${all[most - 1]} …`, columns(units))];
}
