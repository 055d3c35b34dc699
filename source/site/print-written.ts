import { Document, isCollection, isMap, isPair, isScalar, isSeq, type Node, type Scalar, visit } from 'yaml';
import type { Written } from './document.ts';

/** Groups of the top level that people write on one line. */
const ON_ONE_LINE = new Set(['site', 'conditions', 'policy', 'network']);
/** Fields that hold a bare number, which needs no quotes. */
const COUNTS = new Set(['importance', 'installed', 'conductors']);
export const isCount = (field: string) => COUNTS.has(field);
const WIDEST = 108;
export const YAML_STYLE = { lineWidth: 0, flowCollectionPadding: false } as const;

/**
 * Prints a file's fields as YAML the way a practitioner writes it: an entry that fits on a line on one line,
 * a longer one field by field, each group of the top level apart from the next.
 */
export function printWritten(written: Written): string {
  const document = new Document(written);
  visit(document, {
    Pair: (_key, pair) => {
      if (isScalar(pair.key) && isCount(String(pair.key.value)) && isScalar(pair.value)) unquote(pair.value);
    },
  });
  layOut(document);
  return document.toString(YAML_STYLE);
}

/** Sets what stands on one line; comments and what is already laid out elsewhere are not touched. */
function layOut(document: Document): void {
  const { contents } = document;
  if (!isMap(contents)) return;
  for (const [index, pair] of contents.items.entries()) {
    if (!isScalar(pair.key)) continue;
    if (index > 0 && isCollection(pair.value) && !ON_ONE_LINE.has(String(pair.key.value))) {
      pair.key.spaceBefore = true;
    }
    const mayStand = isSeq(pair.value) || ON_ONE_LINE.has(String(pair.key.value));
    if (isCollection(pair.value)) pack(pair.value as Node, mayStand, 2);
  }
}

/**
 * Puts a collection on one line where that reads well: it fits, has no comment, and is no list of several
 * groups.
 *
 * @param mayStand false for the groups of the top level that people write field by field
 */
export function pack(node: Node, mayStand: boolean, indent: number): void {
  if (!isCollection(node)) return;
  const isTable = holdsTable(node);
  const fits = indent + lineWidth(node) <= WIDEST;
  if (mayStand && fits && !isTable && !hasComment(node)) {
    node.flow = true;
    return;
  }
  for (const item of node.items) {
    const value = isPair(item) ? item.value : item;
    const isDeepEntry = !isPair(item) && isMap(value) && value.items.some((pair) => isCollection(pair.value));
    if (isCollection(value)) pack(value as Node, !isDeepEntry, indent + 2);
  }
}

/** Writes a small whole number as a number, so that it stands without quotes. */
export function unquote(scalar: Scalar): void {
  if (/^(0|[1-9]\d{0,3})$/.test(String(scalar.value))) scalar.value = Number(scalar.value);
}

/** True for a list of several groups, and for anything that has one in it. */
function holdsTable(node: unknown): boolean {
  if (isSeq(node)) {
    return (node.items.length > 1 && node.items.some((item) => isMap(item))) || node.items.some(holdsTable);
  }
  return isMap(node) && node.items.some((pair) => holdsTable(pair.value));
}

function hasComment(node: Node): boolean {
  let found = false;
  visit(node, {
    Node: (_key, inner) => {
      if (inner.comment || inner.commentBefore) found = true;
      return found ? visit.BREAK : undefined;
    },
  });
  return found;
}

/** How wide a node is on one line: `{a: b, c: d}`; quotes where a text looks like a number. */
function lineWidth(node: unknown): number {
  if (isSeq(node) || isMap(node)) {
    const parts = node.items.map((item) =>
      isPair(item) ? lineWidth(item.key) + 2 + lineWidth(item.value) : lineWidth(item),
    );
    return parts.reduce((sum, width) => sum + width + 2, 0);
  }
  const text = String(isScalar(node) ? node.value : '');
  return text.length + (/^[\d.+-]+$/.test(text) ? 2 : 0);
}
