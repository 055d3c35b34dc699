import {
  type Alias,
  Composer,
  type CST,
  type Document,
  isAlias,
  isMap,
  isNode,
  isScalar,
  isSeq,
  Lexer,
  LineCounter,
  type Node,
  type ParsedNode,
  Parser,
} from 'yaml';
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
const MOST_PROBLEMS = 100;
const ACCEPTED_TEXT = 'YAML or JSON text of at most 1 MB';

/**
 * Reads YAML (and so JSON) as plain text values with their line numbers. Nothing that is written in a file
 * can make it hang, throw or run away.
 */
export function readDocument(text: string, file: string): ReadDocument | { readonly problems: Problem[] } {
  const refused = (says: string, accepts = ACCEPTED_TEXT, line = 1) => ({
    problems: [{ file, line, field: '', says, accepts }],
  });
  if (text.trim() === '') return refused('The file is empty.');
  if (text.length > MOST_CHARACTERS) {
    return refused(`The file is far too large: ${(text.length / 1e6).toFixed(1)} million characters.`);
  }
  if (/[\0-\x08\x0b\x0c\x0e-\x1f\ufffd]/.test(text)) return refused('The file is not text.');
  const lines = new LineCounter();
  const lineAt = (offset: number) => lines.linePos(offset).line;
  try {
    const document = compose(text, lines);
    if (document.errors.length > 0) {
      return {
        problems: document.errors.slice(0, MOST_PROBLEMS).map((error) => ({
          file,
          line: lineAt(error.pos[0]),
          field: '',
          says: `This cannot be read as YAML: ${sentence(error.message)}`,
          accepts: 'YAML or JSON as in the example survey',
        })),
      };
    }
    const walk = new Walk(document.contents);
    const written = walk.value(document.contents, [], 0);
    if (typeof written === 'string' || Array.isArray(written)) {
      return refused('The file holds no fields.', 'fields such as `format: loopward/survey@1`', 1);
    }
    const problem = ({ at, says, accepts }: Trouble): Problem => ({
      file,
      line: lineAt(walk.offset(at)),
      field: fieldName(at, written),
      says,
      accepts,
    });
    return { written, troubles: walk.troubles, problem };
  } catch (error) {
    if (error instanceof RangeError || error instanceof TooMuch) {
      return refused('The file is nested too deeply or unfolds to far too much.');
    }
    if (error instanceof SecondDocument) {
      return refused('A second document begins here.', 'one document', lineAt(error.offset));
    }
    throw error;
  }
}

class TooMuch extends Error {}

/** Tokens of the nesting that a document may have: each level holds a collection and its item. */
const DEEPEST_TOKENS = 3 * DEEPEST;

/**
 * Parses, with every value as text. The nesting is watched while tokens come in: composing goes down into it,
 * and a stack that runs out there can take the whole process with it.
 */
function compose(text: string, lines: LineCounter): Document.Parsed<ParsedNode> {
  const parser = new Parser(lines.addNewLine);
  function* tokens(): Generator<CST.Token, void> {
    lines.addNewLine(0);
    for (const lexeme of new Lexer().lex(text)) {
      yield* parser.next(lexeme);
      if (parser.stack.length > DEEPEST_TOKENS) throw new TooMuch();
    }
    yield* parser.end();
  }
  const options = { prettyErrors: false, uniqueKeys: false, schema: 'failsafe' } as const;
  const [document, second] = new Composer(options).compose(tokens(), true, text.length);
  if (second !== undefined) throw new SecondDocument(second.range[0]);
  return document as Document.Parsed<ParsedNode>;
}

class SecondDocument extends Error {
  readonly offset: number;
  constructor(offset: number) {
    super();
    this.offset = offset;
  }
}

class Walk {
  readonly troubles: Trouble[] = [];
  readonly #offsets = new Map<string, number>();
  readonly #anchors = new Map<string, Node>();
  #values = 0;
  #copied = 0;

  constructor(top: Node | null) {
    this.#offsets.set(keyOf([]), top?.range?.[0] ?? 0);
  }

  value(node: unknown, at: Path, depth: number): Written {
    this.#values += 1;
    if (depth > DEEPEST || this.#values > MOST_VALUES) throw new TooMuch();
    if (isAlias(node)) return this.#copy(node, at, depth);
    if (isNode(node) && 'anchor' in node && node.anchor) this.#anchors.set(node.anchor, node);
    if (isSeq(node)) {
      return node.items.map((item, index) => {
        const path = [...at, index];
        this.#mark(path, item);
        return this.value(item, path, depth + 1);
      });
    }
    if (!isMap(node)) return isScalar(node) ? scalarText(node) : '';
    const fields: Record<string, Written> = {};
    for (const { key, value } of node.items) {
      const name = isScalar(key) ? scalarText(key) : '';
      const path = [...at, name];
      if (name === '' || name === '__proto__') {
        this.troubles.push({ at, says: 'A key here is no field name.', accepts: 'plain field names' });
      } else if (Object.hasOwn(fields, name)) {
        this.#mark(path, key);
        this.troubles.push({ at: path, says: 'This field stands here twice.', accepts: 'each field once' });
      } else {
        this.#mark(path, key);
        const read = this.value(value, path, depth + 1);
        if (read !== '') fields[name] = read;
      }
    }
    return fields;
  }

  #copy(alias: Alias, at: Path, depth: number): Written {
    const source = this.#anchors.get(alias.source);
    if (source === undefined) {
      this.troubles.push({
        at,
        says: 'This alias stands for nothing above it.',
        accepts: 'the value itself',
      });
      return '';
    }
    const before = this.#values;
    const value = this.value(source, at, depth + 1);
    this.#copied += this.#values - before;
    if (this.#copied > MOST_COPIED) throw new TooMuch();
    return value;
  }

  /** Where a value stands; for one that is missing, where it should have stood. */
  offset(at: Path): number {
    for (let length = at.length; length >= 0; length -= 1) {
      const offset = this.#offsets.get(keyOf(at.slice(0, length)));
      if (offset !== undefined) return offset;
    }
    return 0;
  }

  #mark(at: Path, node: unknown): void {
    const range = (node as Node | null)?.range;
    if (range) this.#offsets.set(keyOf(at), range[0]);
  }
}

const keyOf = (at: Path) => JSON.stringify(at);

/** A plain `null` or `~` is a field left out, as JSON writes it. */
function scalarText(node: { value: unknown; type?: string | undefined }): string {
  const text = String(node.value ?? '').trim();
  return node.type === 'PLAIN' && (text === 'null' || text === '~') ? '' : text;
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
  const first = message.split('\n')[0]!.replace(/\s+/g, ' ').slice(0, 140).trim();
  return /[.!?]$/.test(first) ? first : `${first}.`;
}
