import {
  type Document,
  isCollection,
  isMap,
  isScalar,
  isSeq,
  type Node,
  parseDocument,
  visit,
  type YAMLMap,
  type YAMLSeq,
} from 'yaml';
import { entryName, readDocument, type Written } from './document.ts';
import { keepLines } from './keep-lines.ts';
import { parseSurvey } from './parse-survey.ts';
import { isCount, pack, unquote, YAML_STYLE } from './print-written.ts';
import type { Problem } from './problem.ts';
import type { Survey } from './survey.ts';

/**
 * One field of a survey set to another value. The path names list entries by their id (terminals by their
 * number), else by their position from 1: `zones.z1.loop.resistor`, `cables.c1.cores.2.use`. An entry that
 * is not there yet is added. `null` takes the field or entry out.
 */
export type Change = { readonly path: string; readonly value: ChangeValue };
export type ChangeValue =
  | string
  | number
  | boolean
  | null
  | readonly ChangeValue[]
  | { readonly [key: string]: ChangeValue };

export type Corrected =
  | { readonly ok: true; readonly text: string; readonly survey: Survey }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/**
 * Changes fields of a survey's text and reads the result. Comments stay, and lines that a
 * change does not touch stay as they were written; a value that takes the place of another leaves every other
 * character of the file as it was.
 */
export function applyCorrection(text: string, changes: readonly Change[], file = 'survey.yaml'): Corrected {
  let corrected = text;
  const problems: Problem[] = [];
  for (const change of changes) {
    const changed = applyChange(corrected, change);
    if (changed.ok) corrected = changed.text;
    else problems.push({ file, line: null, field: change.path.slice(0, 120), ...changed.refused });
  }
  if (problems.length > 0) return { ok: false, problems };
  const read = parseSurvey(corrected, file);
  return read.ok ? { ok: true, text: corrected, survey: read.survey } : read;
}

type Refused = { readonly says: string; readonly accepts: string };
type Changed =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly refused: Refused };

const PATH_ACCEPTS = 'a path such as zones.z1.loop.resistor or cables.c1.length';
const STEP = /^[A-Za-z0-9+~*#_-]{1,40}$/;

function applyChange(text: string, { path, value }: Change): Changed {
  const refuse = (refused: Refused): Changed => ({ ok: false, refused });
  const steps = path.split('.');
  if (steps.length > 12 || !steps.every((step) => STEP.test(step) && step !== '__proto__')) {
    return refuse({ says: 'This is no path into a survey.', accepts: PATH_ACCEPTS });
  }
  const unreadable = { says: 'The survey itself cannot be read.', accepts: 'a survey that can be read' };
  const read = readDocument(text, '');
  if ('problems' in read) return refuse(unreadable);
  const document = parseDocument(text);
  // One library reads surveys, another changes their text: both must understand it.
  if (document.errors.length > 0) return refuse(unreadable);
  const before = document.toString(YAML_STYLE);
  const hadAliases = unfoldAliases(document);
  const here = document.getIn(positions(read.written, steps), true);
  if (
    !hadAliases &&
    isScalar(here) &&
    here.type !== undefined &&
    !here.type.startsWith('BLOCK') &&
    here.range
  ) {
    const [start, end] = here.range;
    if (value !== null && typeof value !== 'object' && end > start) {
      return { ok: true, text: text.slice(0, start) + scalarText(steps.at(-1)!, value) + text.slice(end) };
    }
  }
  const refused = setDeep(document, steps, value);
  return refused === null
    ? { ok: true, text: keepLines(text, before, document.toString(YAML_STYLE)) }
    : refuse(refused);
}

/** Keys and indices for a path of ids and positions; what is not there is left as it is. */
function positions(top: Written, steps: readonly string[]): (string | number)[] {
  let here: Written | undefined = top;
  return steps.map((step) => {
    const at: string | number = Array.isArray(here) ? indexIn(here, step) : step;
    here = typeof here === 'object' ? (here as Readonly<Record<string | number, Written>>)[at] : undefined;
    return at;
  });
}

/** The index of an entry by its id, else by its position from 1; past the end where there is none. */
function indexIn(list: readonly Written[], step: string): number {
  const named = list.findIndex((entry) => entryName(entry) === step || entry === step);
  if (named >= 0) return named;
  return /^[1-9]\d{0,4}$/.test(step) ? Number(step) - 1 : list.length;
}

/** Lists of the format, for those that are not in the file yet. */
const LISTS = new Set([
  ...['zones', 'mayShare', 'tampers', 'detectors', 'cables', 'sounders', 'keypads', 'boards'],
  ...['supplies', 'outputs', 'terminals', 'batteries', 'cores'],
]);

function setDeep(document: Document, steps: readonly string[], value: ChangeValue): Refused | null {
  let here: unknown = document.contents;
  for (const [depth, step] of steps.entries()) {
    const isLast = depth === steps.length - 1;
    const place = steps.slice(0, depth).join('.');
    if (!isMap(here) && !isSeq(here)) {
      return {
        says: `At ${place} stands a value, not a group of fields.`,
        accepts: `a new value for ${place}`,
      };
    }
    const list = isSeq(here) ? (here.toJS(document) as Written[]).map(asWritten) : null;
    const key = list === null ? step : indexIn(list, step);
    const isThere = here.has(key);
    if (isLast) return setLast(document, here, key, step, value, isThere);
    const next = here.get(key, true);
    const isEntry = isScalar(next) && String(next.value) === step && list !== null;
    if (!isThere || isEntry || (isScalar(next) && next.value === null)) {
      const fresh =
        list === null && LISTS.has(step) ? [] : list === null ? {} : entryWithName(step, steps[depth - 1]);
      if (list !== null && Number(key) > list.length) return noEntry(step, place);
      put(document, here, key, fresh);
    }
    here = here.get(key, true);
  }
  return null;
}

function setLast(
  document: Document,
  here: YAMLMap | YAMLSeq,
  key: string | number,
  step: string,
  value: ChangeValue,
  isThere: boolean,
): Refused | null {
  if (value === null) {
    if (!isThere) return noEntry(step, '');
    here.delete(key);
    return null;
  }
  if (typeof key === 'number' && key > here.items.length) return noEntry(step, '');
  const isNamed = typeof key === 'number' && !/^\d+$/.test(step) && isGroup(value) && !('id' in value);
  put(document, here, key, isNamed ? { id: step, ...value } : value);
  return null;
}

function put(document: Document, here: YAMLMap | YAMLSeq, key: string | number, value: ChangeValue): void {
  const node = document.createNode(asText(value)) as Node;
  visit(node, {
    Pair: (_key, pair) => {
      if (isScalar(pair.key) && isScalar(pair.value) && isCount(String(pair.key.value))) unquote(pair.value);
    },
  });
  const isDeep = isMap(node) && node.items.some((pair) => isCollection(pair.value));
  if (isCollection(node)) pack(node, isSeq(here) ? !isDeep : true, 4);
  else if (isScalar(node) && isCount(String(key))) unquote(node);
  if (isSeq(here) && here.items.length === 0 && isCollection(node)) here.flow = false;
  here.set(key, node);
}

function entryWithName(step: string, list: string | undefined): ChangeValue {
  if (list === 'cores' || list === 'outputs' || list === 'batteries') return {};
  return list === 'terminals' ? { number: step } : { id: step };
}

function noEntry(step: string, place: string): Refused {
  const where = place === '' ? '' : ` at ${place}`;
  return {
    says: `There is no entry "${step}"${where}.`,
    accepts: 'an entry that is there, or the next position',
  };
}

/** A scalar as text that means itself both on a line of its own and between braces. */
function scalarText(field: string, value: string | number | boolean): string {
  const text = String(asText(value));
  if (isCount(field) && /^\d{1,4}$/.test(text)) return text;
  const isPlain =
    /^[A-Za-z0-9µ][A-Za-z0-9 .%°µΩ/+'_-]*$/.test(text) && !/^[\d.+-]+$|^0x|^(null|true|false)$/i.test(text);
  return isPlain ? text : JSON.stringify(text);
}

/** People say yes and no; the format knows no other truth values. */
function asText(value: ChangeValue): Written {
  if (value === true) return 'yes';
  if (value === false) return 'no';
  if (value === null) return '';
  if (typeof value !== 'object') return String(value);
  if (Array.isArray(value)) return value.map(asText);
  return Object.fromEntries(Object.entries(value).map(([key, inner]) => [key, asText(inner)]));
}

function asWritten(value: unknown): Written {
  return typeof value === 'object' && value !== null ? (value as Written) : String(value);
}

function isGroup(value: ChangeValue): value is { readonly [key: string]: ChangeValue } {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** Puts a copy in the place of every alias, so that a change to one entry changes no other. */
function unfoldAliases(document: Document): boolean {
  let found = false;
  visit(document, {
    Alias: (_key, alias) => {
      found = true;
      const copy = alias.resolve(document)?.clone() as Node | undefined;
      if (copy !== undefined && 'anchor' in copy) delete copy.anchor;
      return copy;
    },
  });
  if (!found) return false;
  visit(document, {
    Node: (_key, node) => {
      if ('anchor' in node) delete node.anchor;
    },
  });
  return true;
}
