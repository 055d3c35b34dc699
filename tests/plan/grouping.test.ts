import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import { computeGrouping } from '../../source/plan/grouping/group.ts';
import type { Unit } from '../../source/plan/grouping/units.ts';
import { report, scale } from '../scale.ts';
import { type DrawnSite, drawSite } from './grouping-drawn.ts';

// The objective as the specification words it, written down a second time: nothing of the planner is used.
type Score = readonly [loss: number, mixed: number, parted: number, ...vector: number[]];

function lossOfGroup(group: readonly Unit[]): number {
  const size = group.reduce((sum, unit) => sum + unit.size, 0);
  return group.reduce((sum, unit) => sum + unit.importance * (size - 1), 0);
}

function isAllowed(group: readonly Unit[], mayShare: DrawnSite['mayShare']): boolean {
  const [first] = group;
  const asked = new Set(group.map((unit) => unit.asked).filter((one) => one !== null));
  if (asked.size > 1 || group.some((unit) => unit.company !== first!.company)) return false;
  const zones = new Set(group.map((unit) => unit.zone));
  return zones.size === 1 || mayShare.some((set) => [...zones].every((zone) => set.includes(zone)));
}

function mixes(group: readonly Unit[]): boolean {
  const places = group.reduce((bits, unit) => bits | unit.places, 0);
  return [1, 2, 4, 8].filter((bit) => places & bit).length > 1;
}

function partedIn(units: readonly Unit[], vector: readonly number[]): number {
  let parted = 0;
  units.forEach((unit, at) => {
    const next = units.findIndex((other) => other.zone === unit.zone && other.position === unit.position + 1);
    if (next >= 0 && vector[next] !== vector[at]) parted += 1;
  });
  return parted;
}

function groupsIn(units: readonly Unit[], vector: readonly number[]): Unit[][] {
  const groups: Unit[][] = [];
  vector.forEach((group, at) => {
    groups[group] = [...(groups[group] ?? []), units[at]!];
  });
  return groups;
}

function score(units: readonly Unit[], vector: readonly number[]): Score {
  const groups = groupsIn(units, vector);
  const loss = groups.reduce((sum, group) => sum + lossOfGroup(group), 0);
  return [loss, groups.filter(mixes).length, partedIn(units, vector), ...vector];
}

function sortsBefore(a: Score, b: Score): boolean {
  const at = a.findIndex((value, index) => value !== b[index]);
  return at >= 0 && a[at]! < b[at]!;
}

/** Every way to share inputs, one after another: restricted growth strings. */
function bestByWeighingAll({ units, mayShare, inputs }: DrawnSite): Score | null {
  let best: Score | null = null;
  const vector: number[] = [];
  const grow = (used: number) => {
    if (vector.length === units.length) {
      const groups = groupsIn(units, vector);
      if (groups.every((group) => isAllowed(group, mayShare))) {
        const mine = score(units, vector);
        if (best === null || sortsBefore(mine, best)) best = mine;
      }
      return;
    }
    for (let group = 0; group <= used && group < inputs; group++) {
      vector.push(group);
      if (isAllowed(groupsIn(units, vector)[group]!, mayShare)) grow(Math.max(used, group + 1));
      vector.pop();
    }
  };
  grow(0);
  return best;
}

function vectorOf(units: readonly Unit[], groups: readonly { readonly units: readonly Unit[] }[]): number[] {
  return units.map((unit) => groups.findIndex((group) => group.units.includes(unit)));
}

describe('grouping against weighing every way', () => {
  const SITES = scale(300, 0.5);
  test(`${SITES} sites of up to 8 units: loss, places mixed and joins parted are least (seeds from 0)`, () => {
    let shared = 0;
    for (let seed = 0; seed < SITES; seed++) {
      const site = drawSite(seed, { detectors: 8, inAZone: 6 });
      const best = bestByWeighingAll(site);
      const found = computeGrouping(site.units, site.mayShare, site.inputs);
      if (best === null) {
        expect(found.fewestInputs, `seed ${seed}`).toBeGreaterThan(site.inputs);
        continue;
      }
      const mine = score(site.units, vectorOf(site.units, found.groups));
      expect(found.groups.length, `seed ${seed}`).toBeLessThanOrEqual(site.inputs);
      expect(mine.slice(0, 3), `seed ${seed}`).toEqual(best.slice(0, 3));
      expect(found, `seed ${seed}`).toMatchObject({ optimal: true, loss: best[0], bound: best[0] });
      if (mine[0] > 0) shared += 1;
    }
    expect(shared).toBeGreaterThan(SITES / 4);
  });

  test(`${SITES} sites of one zone and company: the vector of group numbers sorts first`, () => {
    for (let seed = 0; seed < SITES; seed++) {
      const drawn = drawSite(seed, { detectors: 8, inAZone: 8 });
      const units = drawn.units.map(
        (unit, position): Unit => ({ ...unit, zone: 'z1', position, company: 'c', asked: null }),
      );
      const best = bestByWeighingAll({ ...drawn, units, mayShare: [] })!;
      const found = computeGrouping(units, [], drawn.inputs);
      expect(score(units, vectorOf(units, found.groups)), `seed ${seed}`).toEqual(best);
    }
  });
});

// The package is CommonJS with types for its default export.
const loadHighs = createRequire(import.meta.url)('highs') as typeof import('highs')['default'];

describe('grouping against an integer programme (HiGHS)', async () => {
  const highs = await loadHighs();
  const SITES = scale(300, 0.1);

  /** Columns are allowed groups, rows the units: each in one group, no more groups than inputs. */
  function leastLoss({ units, mayShare, inputs }: DrawnSite): number | null {
    const columns: { name: string; loss: number; members: number[] }[] = [];
    const parts = new Map<string, number[]>();
    const linked = mayShare.flat();
    units.forEach((unit, at) => {
      const zone = linked.includes(unit.zone) ? linked.join() : unit.zone;
      const key = `${zone} ${unit.company}`;
      parts.set(key, [...(parts.get(key) ?? []), at]);
    });
    for (const part of parts.values())
      for (let set = 1; set < 2 ** part.length; set++) {
        const members = part.filter((_, bit) => set & (1 << bit));
        const group = members.map((at) => units[at]!);
        if (isAllowed(group, mayShare))
          columns.push({ name: `g${columns.length}`, loss: lossOfGroup(group), members });
      }
    const sum = (terms: string[]) => terms.join(' + ') || '0 g0';
    const lines = [
      'Minimize',
      ` loss: ${sum(columns.map(({ name, loss }) => `${loss} ${name}`))}`,
      'Subject To',
      ...units.map(
        (_, at) =>
          ` u${at}: ${sum(columns.filter(({ members }) => members.includes(at)).map(({ name }) => name))} = 1`,
      ),
      ` inputs: ${sum(columns.map(({ name }) => name))} <= ${inputs}`,
      'Binary',
      ` ${columns.map(({ name }) => name).join(' ')}`,
      'End',
    ];
    const solved = highs.solve(lines.join('\n'));
    return solved.Status === 'Optimal' ? Math.round(solved.ObjectiveValue) : null;
  }

  test(`${SITES} sites of up to 40 detectors: no grouping loses less (seeds from 10000)`, () => {
    const rows: Record<string, unknown>[] = [];
    for (let seed = 10_000; seed < 10_000 + SITES; seed++) {
      const site = drawSite(seed, { detectors: 40, inAZone: 8 });
      const least = leastLoss(site);
      const found = computeGrouping(site.units, site.mayShare, site.inputs);
      if (least === null) expect(found.fewestInputs, `seed ${seed}`).toBeGreaterThan(site.inputs);
      else expect(found.loss, `seed ${seed}`).toBe(least);
      rows.push({ seed, units: site.units.length, inputs: site.inputs, least, loss: found.loss });
    }
    expect(rows.filter(({ least }) => least !== null && Number(least) > 0).length).toBeGreaterThan(
      SITES / 10,
    );
    report(`Grouping against HiGHS, ${SITES} sites, all equal`, rows.slice(0, 20));
  });
});

describe('inputs asked for', () => {
  const unit = (at: number, asked: string | null): Unit => ({
    detectors: [`d${at}`],
    zone: 'z1',
    purpose: 'detection',
    size: 1,
    importance: 5,
    places: 1,
    company: 'normally-closed:intruder',
    returns: [],
    asked,
    position: at,
  });

  test('detectors that ask for one input share it although there are inputs to spare', () => {
    const { groups } = computeGrouping([unit(0, 'b1/2'), unit(1, null), unit(2, 'b1/2')], [], 8);
    expect(groups.map(({ units }) => units.flatMap(({ detectors }) => detectors))).toEqual([
      ['d0', 'd2'],
      ['d1'],
    ]);
  });

  test('detectors that ask for different inputs never share', () => {
    const { groups, fewestInputs } = computeGrouping([unit(0, 'b1/2'), unit(1, 'b1/3')], [], 1);
    expect(groups).toHaveLength(2);
    expect(fewestInputs).toBe(2);
  });
});

describe('grouping of large zones', () => {
  const single = (at: number, importance: number, size = 1): Unit => ({
    detectors: Array.from({ length: size }, (_, one) => `d${at}-${one}`),
    zone: 'z1',
    purpose: 'detection',
    size,
    importance,
    places: 1,
    company: 'normally-closed:intruder',
    returns: [],
    asked: null,
    position: at,
  });

  /** Least loss of equal sizes: for every way to cut the count, the dearest go to the smallest groups. */
  function leastByCounts(importances: readonly number[], groups: number): number {
    const dearest = [...importances].sort((a, b) => b - a);
    let least = Number.POSITIVE_INFINITY;
    const cut = (at: number, smallest: number, left: number, loss: number) => {
      const rest = dearest.length - at;
      if (rest === 0) least = Math.min(least, loss);
      if (left === 0 || loss >= least) return;
      for (let size = smallest; size <= rest; size++) {
        const sum = dearest.slice(at, at + size).reduce((total, one) => total + one, 0);
        cut(at + size, size, left - 1, loss + sum * (size - 1));
      }
    };
    cut(0, 1, groups, 0);
    return least;
  }

  test('thirty detectors of equal size are grouped exactly, whatever they matter and however few inputs', () => {
    for (const inputs of [1, 2, 3, 5, 7]) {
      const units = Array.from({ length: 30 }, (_, at) => single(at, [0, 1, 1, 2, 5][(at * 7) % 5]!));
      const found = computeGrouping(units, [], inputs);
      expect(found.optimal).toBe(true);
      const importances = units.map(({ importance }) => importance);
      expect(found.loss, `${inputs} inputs`).toBe(leastByCounts(importances, inputs));
    }
  });

  test('fourteen sets of unequal size are grouped as well as found, with a bound', () => {
    const units = Array.from({ length: 14 }, (_, at) => single(at, 1 + ((at * 5) % 7), 1 + ((at * 3) % 5)));
    const found = computeGrouping(units, [], 6);
    expect(found.optimal).toBe(false);
    expect(found.bound).toBeGreaterThan(0);
    expect(found.bound).toBeLessThan(found.loss);
    expect(found.loss / found.bound).toBeLessThan(1.5);
  });
});
