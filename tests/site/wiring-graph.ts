import type { Survey } from '../../source/site/survey.ts';
import type { Wiring } from '../../source/wiring/wiring.ts';

export type Branch = { a: string; b: string; ohms: number };

/**
 * Everything between the nodes of one loop, as resistances: conductors and closed contacts almost nothing,
 * open contacts left out. Written for these checks alone, so that the wiring is judged by something else.
 *
 * @param worked the detector that is worked; the others are at rest
 */
export function branchesOf(wiring: Wiring, survey: Survey, zone: string, worked: string | null): Branch[] {
  const contactOf = new Map(survey.detectors.map((detector) => [detector.id, detector.contact]));
  const branches: Branch[] = [];
  for (const { near, far } of wiring.conductors) branches.push({ a: near, b: far, ohms: 1e-3 });
  for (const { a, b, ohms } of wiring.resistors) {
    branches.push({ a, b, ohms: ohms === 'unknown' ? 5000 : ohms });
  }
  for (const { detector, purpose, sense, a, b } of wiring.contacts) {
    const isWorked = detector === worked && purpose === 'alarm';
    const isClosed = (sense !== 'normally-open') !== isWorked;
    if (sense === 'unknown' && contactOf.get(detector) !== 'unknown')
      throw new Error('a known contact is lost');
    if (isClosed) branches.push({ a, b, ohms: 1e-3 });
  }
  return component(branches, wiring.loops[zone]![0]);
}

/** The branches that hang together with a node. */
function component(branches: readonly Branch[], start: string): Branch[] {
  const at = new Map<string, Branch[]>();
  for (const branch of branches) {
    for (const node of [branch.a, branch.b]) at.set(node, [...(at.get(node) ?? []), branch]);
  }
  const seen = new Set([start]);
  const found = new Set<Branch>();
  for (const node of seen) {
    for (const branch of at.get(node) ?? []) {
      found.add(branch);
      seen.add(branch.a).add(branch.b);
    }
  }
  return [...found];
}

/** Resistance between two nodes by nodal analysis (Kirchhoff's current law); infinite where nothing joins them. */
export function ohmsBetween(branches: readonly Branch[], from: string, to: string): number {
  const nodes = [...new Set(branches.flatMap(({ a, b }) => [a, b]))].filter((node) => node !== to);
  if (!nodes.includes(from) || !branches.some(({ a, b }) => a === to || b === to))
    return Number.POSITIVE_INFINITY;
  const index = new Map(nodes.map((node, position) => [node, position]));
  const rows = nodes.map((node) => [...nodes.map(() => 0), node === from ? 1 : 0]);
  for (const { a, b, ohms } of branches) {
    const i = index.get(a);
    const j = index.get(b);
    if (i !== undefined) rows[i]![i]! += 1 / ohms;
    if (j !== undefined) rows[j]![j]! += 1 / ohms;
    if (i !== undefined && j !== undefined && i !== j) {
      rows[i]![j]! -= 1 / ohms;
      rows[j]![i]! -= 1 / ohms;
    }
  }
  return solve(rows)[index.get(from)!]!;
}

/** Gaussian elimination with partial pivoting. */
function solve(rows: number[][]): number[] {
  const size = rows.length;
  for (let column = 0; column < size; column += 1) {
    let pivot = column;
    for (let row = column + 1; row < size; row += 1) {
      if (Math.abs(rows[row]![column]!) > Math.abs(rows[pivot]![column]!)) pivot = row;
    }
    [rows[column], rows[pivot]] = [rows[pivot]!, rows[column]!];
    const top = rows[column]!;
    if (Math.abs(top[column]!) < 1e-12) continue;
    for (let row = 0; row < size; row += 1) {
      const factor = row === column ? 0 : rows[row]![column]! / top[column]!;
      if (factor === 0) continue;
      for (let at = column; at <= size; at += 1) rows[row]![at]! -= factor * top[at]!;
    }
  }
  return rows.map((row, at) => row[size]! / row[at]!);
}
