import { EVENT_ID, type Event, getScalarValue, parseEvents, SCALAR_STYLE, YAMLException } from 'js-yaml';
import type { Path, Problem, Trouble } from './problem.ts';

/** A document as it was written: every value is text. */
export type Written = string | readonly Written[] | { readonly [key: string]: Written };

export type ReadDocument = {
  readonly written: Written;
  readonly troubles: readonly Trouble[];
  /** Turns a place into a problem of this file. */
  readonly problem: (trouble: Trouble) => Problem;
};

/** A site of two thousand detectors stays below half of this. */
const MOST_CHARACTERS = 1_000_000;
const DEEPEST = 40;
/** An alias bomb unfolds to more than this; a survey of two thousand detectors to a tenth. */
const MOST_VALUES = 300_000;
const MOST_COPIED = 20_000;
const ACCEPTED_TEXT = 'YAML or JSON text of at most 1 MB';
const TOO_MUCH = 'The file is nested too deeply or unfolds to far too much.';

/**
 * Reads YAML (and so JSON) as plain text values with their line numbers. Nothing that is written in a file
 * can make it hang, throw or run away.
 */
export function readDocument(text: string, file: string): ReadDocument | { readonly problems: Problem[] } {
  const refused = (says: string, accepts = ACCEPTED_TEXT, offset = 0) => ({
    problems: [{ file, line: lineAt(text, offset), field: '', says, accepts }],
  });
  if (text.trim() === '') return refused('The file is empty.');
  if (text.length > MOST_CHARACTERS) {
    return refused(`The file is far too large: ${(text.length / 1e6).toFixed(1)} million characters.`);
  }
  if (/[\0-\x08\x0b\x0c\x0e-\x1f\ufffd]/.test(text)) return refused('The file is not text.');
  try {
    const walk = new Walk(text);
    const { written, troubles } = walk;
    if (walk.second !== null) {
      return refused('A second document begins here.', 'one document', walk.second);
    }
    if (typeof written === 'string' || Array.isArray(written)) {
      return refused('The file holds no fields.', 'fields such as `format: loopward/survey@1`');
    }
    const problem = ({ at, says, accepts }: Trouble): Problem => ({
      file,
      line: lineAt(text, walk.offset(at)),
      field: fieldName(at, written),
      says,
      accepts,
    });
    return { written, troubles, problem };
  } catch (error) {
    if (error instanceof TooMuch) return refused(TOO_MUCH);
    if (!(error instanceof YAMLException)) throw error;
    const { reason, mark } = error;
    if (/^nesting exceeded/.test(reason)) return refused(TOO_MUCH);
    return refused(
      `This cannot be read as YAML: ${sentence(reason)}`,
      'YAML or JSON as in the example survey',
      mark?.position,
    );
  }
}

/** The line of an offset, from 1. */
function lineAt(text: string, offset: number): number {
  return text.slice(0, offset).split('\n').length;
}

class TooMuch extends Error {}

/** Where the values of one list or group stand in the text, by index or name. */
type Places = Map<string | number, number>;

/** One walk through what the parser met, in the order of the text. */
class Walk {
  readonly written: Written;
  readonly troubles: Trouble[] = [];
  /** Where a second document begins. */
  readonly second: number | null;
  readonly #text: string;
  readonly #events: readonly Event[];
  readonly #places = new Map<unknown, Places>();
  /** By its name, where the node of an anchor stands among the events. */
  readonly #anchors = new Map<string, number>();
  readonly #path: (string | number)[] = [];
  #next = 1;
  /** The offset of what was met last, for what has none: an empty value. */
  #offset = 0;
  #values = 0;
  #copied = 0;

  constructor(text: string) {
    this.#text = text;
    // A level of the document is up to three of the parser's.
    this.#events = parseEvents(text, { maxDepth: 3 * DEEPEST });
    this.written = this.#events.length === 0 ? '' : this.#value();
    // Past the end of the first document, where the walk now stands.
    const rest = this.#events.slice(this.#next + 1);
    this.second = rest.length === 0 ? null : (rest.map(startOf).find((start) => start >= 0) ?? text.length);
  }

  /** Where a value stands; for one that is missing, where it should have stood. */
  offset(at: Path): number {
    let offset = 0;
    let here: Written | undefined = this.written;
    for (const step of at) {
      const place: number | undefined = this.#places.get(here)?.get(step);
      if (place === undefined) break;
      offset = place;
      here = child(here, step);
    }
    return offset;
  }

  #value(): Written {
    this.#values += 1;
    if (this.#path.length > DEEPEST || this.#values > MOST_VALUES) throw new TooMuch();
    const at = this.#next;
    const event = this.#met();
    if (event.type === EVENT_ID.ALIAS) return this.#copy(this.#anchorOf(event));
    if ('anchorStart' in event && event.anchorStart >= 0) this.#anchors.set(this.#anchorOf(event), at);
    if (event.type === EVENT_ID.SEQUENCE) return this.#list();
    if (event.type === EVENT_ID.MAPPING) return this.#fields();
    return event.type === EVENT_ID.SCALAR ? scalarText(this.#text, event) : '';
  }

  #list(): Written {
    const items: Written[] = [];
    const places: Places = new Map();
    while (!this.#isOver()) {
      this.#path.push(items.length);
      places.set(items.length, this.#ahead());
      items.push(this.#value());
      this.#path.pop();
    }
    this.#places.set(items, places);
    return items;
  }

  #fields(): Written {
    const fields: Record<string, Written> = {};
    const places: Places = new Map();
    while (!this.#isOver()) {
      const keyAt = this.#ahead();
      const key = this.#events[this.#next]!;
      const name = key.type === EVENT_ID.SCALAR ? scalarText(this.#text, key) : '';
      this.#skip();
      if (name === '' || name === '__proto__') {
        this.#trouble('A key here is no field name.', 'plain field names');
        this.#skip();
        continue;
      }
      const isTwice = places.has(name);
      places.set(name, keyAt);
      this.#path.push(name);
      if (isTwice) {
        this.#trouble('This field stands here twice.', 'each field once');
        this.#skip();
      } else {
        const value = this.#value();
        if (value !== '') fields[name] = value;
      }
      this.#path.pop();
    }
    this.#places.set(fields, places);
    return fields;
  }

  #copy(anchor: string): Written {
    const source = this.#anchors.get(anchor);
    if (source === undefined) {
      this.#trouble('This alias stands for nothing above it.', 'the value itself');
      return '';
    }
    const before = this.#values;
    const next = this.#next;
    this.#next = source;
    const value = this.#value();
    this.#next = next;
    this.#copied += this.#values - before;
    if (this.#copied > MOST_COPIED) throw new TooMuch();
    return value;
  }

  #trouble(says: string, accepts: string): void {
    this.troubles.push({ at: [...this.#path], says, accepts });
  }

  /** Whether the list or group in hand is at its end, which it then goes past. */
  #isOver(): boolean {
    if (this.#events[this.#next]!.type !== EVENT_ID.POP) return false;
    this.#next += 1;
    return true;
  }

  #ahead(): number {
    const start = startOf(this.#events[this.#next]!);
    return start >= 0 ? start : this.#offset;
  }

  #met(): Event {
    this.#offset = this.#ahead();
    const event = this.#events[this.#next]!;
    this.#next += 1;
    return event;
  }

  /** Goes past a value with all that is in it. */
  #skip(): void {
    let depth = 0;
    do {
      const { type } = this.#met();
      if (type === EVENT_ID.SEQUENCE || type === EVENT_ID.MAPPING) depth += 1;
      if (type === EVENT_ID.POP) depth -= 1;
    } while (depth > 0);
  }

  #anchorOf({ anchorStart, anchorEnd }: { anchorStart: number; anchorEnd: number }): string {
    return this.#text.slice(anchorStart, anchorEnd);
  }
}

/** Where an event's text begins, -1 for what has none. */
function startOf(event: Event): number {
  switch (event.type) {
    case EVENT_ID.SCALAR:
      return event.valueStart;
    case EVENT_ID.ALIAS:
      return event.anchorStart;
    case EVENT_ID.SEQUENCE:
    case EVENT_ID.MAPPING:
      return event.start;
    default:
      return -1;
  }
}

/** A plain `null` or `~` is a field left out, as JSON writes it. */
function scalarText(text: string, scalar: Extract<Event, { type: typeof EVENT_ID.SCALAR }>): string {
  const says = getScalarValue(text, scalar).trim();
  return scalar.style === SCALAR_STYLE.PLAIN && (says === 'null' || says === '~') ? '' : says;
}

/**
 * A place as people name it: entries of a list by their id (a terminal by its number), else counted from 1.
 *
 * @example fieldName(['cables', 0, 'cores', 1], {cables: [{id: 'c1', cores: []}]}) // => 'cables.c1.cores.2'
 */
export function fieldName(at: Path, top: Written): string {
  let here: Written | undefined = top;
  return at
    .map((step) => {
      const name = typeof step === 'number' ? (entryName(child(here, step)) ?? String(step + 1)) : step;
      here = child(here, step);
      return name;
    })
    .join('.');
}

/** What an entry of a list goes by. */
export function entryName(entry: Written | undefined): string | null {
  const name = child(entry, 'id') ?? child(entry, 'number');
  return typeof name === 'string' && /^[^.\s]{1,40}$/.test(name) ? name : null;
}

function child(here: Written | undefined, step: string | number): Written | undefined {
  if (typeof here !== 'object' || !Object.hasOwn(here, step)) return undefined;
  return (here as Readonly<Record<string | number, Written>>)[step];
}

function sentence(message: string): string {
  const first = message.replace(/\s+/g, ' ').slice(0, 140).trim();
  return `${first.charAt(0).toUpperCase()}${first.slice(1)}${/[.!?]$/.test(first) ? '' : '.'}`;
}
