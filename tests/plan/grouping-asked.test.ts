import { createRequire } from 'node:module';
import { describe, expect, test } from 'vitest';
import { computeGrouping } from '../../source/plan/grouping/group.ts';
import type { Unit } from '../../source/plan/grouping/units.ts';
import { report, scale } from '../scale.ts';
import { type DrawnSite, drawAskedSite, drawSite } from './grouping-drawn.ts';
import { bestByWeighingAll, isAllowed, score, vectorOf } from './grouping-weighed.ts';

// The package is CommonJS with types for its default export.
const loadHighs = createRequire(import.meta.url)('highs') as typeof import('highs')['default'];

/** Units that are alike, and how many there are; what asks for one input is one kind of which there is one. */
type Kind = { readonly size: number; readonly importance: number; readonly asks: boolean; count: number };

/** Source: the objective of the specification, written down anew; nothing of the planner is used. */
function kindsOf(units: readonly Unit[]): Kind[] {
  const kinds = new Map<string, Kind>();
  const asking = new Map<string, Unit[]>();
  for (const unit of units) {
    if (unit.asked !== null) {
      asking.set(unit.asked, [...(asking.get(unit.asked) ?? []), unit]);
      continue;
    }
    const key = `${unit.size} ${unit.importance}`;
    const kind = kinds.get(key) ?? { size: unit.size, importance: unit.importance, asks: false, count: 0 };
    kind.count += 1;
    kinds.set(key, kind);
  }
  const sum = (of: readonly Unit[], value: (unit: Unit) => number) =>
    of.reduce((total, unit) => total + value(unit), 0);
  return [
    ...kinds.values(),
    ...[...asking.values()].map((of) => ({
      size: sum(of, ({ size }) => size),
      importance: sum(of, ({ importance }) => importance),
      asks: true,
      count: 1,
    })),
  ];
}

describe('grouping with inputs asked for, above twelve units, against an integer programme (HiGHS)', async () => {
  const highs = await loadHighs();
  const SITES = scale(2000, 0.01);

  /** Columns are what a group may hold of each kind, counted; rows the kinds: all of each in some group. */
  function leastLoss({ units, mayShare, inputs }: DrawnSite): number | null {
    const parts =
      mayShare.length > 0
        ? [units]
        : [...new Set(units.map(({ zone }) => zone))].map((zone) =>
            units.filter((unit) => unit.zone === zone),
          );
    const loss: string[] = [];
    const rows: string[] = [];
    const names: string[] = [];
    for (const [at, part] of parts.entries()) {
      const kinds = kindsOf(part);
      const terms: string[][] = kinds.map(() => []);
      const held = new Array<number>(kinds.length).fill(0);
      const fill = (kind: number, size: number, importance: number, asks: number): void => {
        if (kind === kinds.length) {
          if (size === 0) return;
          const name = `g${names.length}`;
          names.push(name);
          if (importance * (size - 1) > 0) loss.push(`${importance * (size - 1)} ${name}`);
          held.forEach((count, of) => {
            if (count > 0) terms[of]!.push(`${count} ${name}`);
          });
          return;
        }
        const { count, asks: isAsked, size: one, importance: matters } = kinds[kind]!;
        for (let many = 0; many <= count && asks + (isAsked ? many : 0) <= 1; many++) {
          held[kind] = many;
          fill(kind + 1, size + many * one, importance + many * matters, asks + (isAsked ? many : 0));
        }
        held[kind] = 0;
      };
      fill(0, 0, 0, 0);
      kinds.forEach(({ count }, kind) => {
        rows.push(` k${at}x${kind}: ${terms[kind]!.join(' + ')} = ${count}`);
      });
    }
    const solved = highs.solve(
      [
        'Minimize',
        ` loss: ${loss.join(' + ') || `0 ${names[0]}`}`,
        'Subject To',
        ...rows,
        ` inputs: ${names.join(' + ')} <= ${inputs}`,
        'General',
        ` ${names.join(' ')}`,
        'End',
      ].join('\n'),
    );
    return solved.Status === 'Optimal' ? Math.round(solved.ObjectiveValue) : null;
  }

  test(`${SITES} sites: what is called optimal is, and the bound is one (seeds from 40000)`, () => {
    const table: Record<string, unknown>[] = [];
    for (let seed = 40_000; seed < 40_000 + SITES; seed++) {
      const site = drawAskedSite(seed, { units: 16 });
      const least = leastLoss(site);
      const found = computeGrouping(site.units, site.mayShare, site.inputs);
      const who = `seed ${seed}, ${site.units.length} units, ${site.inputs} inputs`;
      if (least === null) expect(found.fewestBound, who).toBeGreaterThan(site.inputs);
      else {
        expect(found.fewestInputs, who).toBeLessThanOrEqual(site.inputs);
        expect(found.groups.length, who).toBeLessThanOrEqual(site.inputs);
        expect(
          found.groups.every(({ units }) => isAllowed(units, site.mayShare)),
          who,
        ).toBe(true);
        expect(found.bound, who).toBeLessThanOrEqual(least);
        expect(found.loss, who).toBeGreaterThanOrEqual(least);
        if (found.optimal) expect(found.loss, who).toBe(least);
      }
      table.push({ seed, units: site.units.length, inputs: site.inputs, least, ...figuresOf(found) });
    }
    const solved = table.filter(({ least }) => least !== null);
    const optimal = solved.filter((row) => row.optimal);
    // What the planner weighs is most of them, or it would say "not weighed" of all and never be wrong.
    expect(optimal.length).toBeGreaterThan(solved.length * 0.9);
    report(`Asked inputs against HiGHS: ${SITES} sites, ${optimal.length} of ${solved.length} optimal`, [
      ...table.filter(({ optimal: is }) => !is).slice(0, 10),
      ...table.slice(0, 10),
    ]);
  }, 3_000_000);
});

function figuresOf({ loss, bound, optimal, fewestInputs }: ReturnType<typeof computeGrouping>) {
  return { loss, bound, optimal, fewestInputs };
}

describe('inputs that several ask for, against weighing every way', () => {
  const SITES = scale(600, 0.3);
  test(`${SITES} sites of up to 8 units: who asks for one input gets it together, then least loss and ties (seeds from 60000)`, () => {
    let together = 0;
    for (let seed = 60_000; seed < 60_000 + SITES; seed++) {
      const drawn = drawSite(seed, { detectors: 8, inAZone: 8 }, { share: 0.5, inputs: 2 });
      // A return that some of them share lets no two of these follow each other across zones.
      const units = drawn.units.map(
        (unit, at): Unit => ((seed + at) % 3 === 0 ? { ...unit, returns: [`c1/${at % 2}`] } : unit),
      );
      const site = { ...drawn, units };
      const best = bestByWeighingAll(site);
      const found = computeGrouping(units, site.mayShare, site.inputs);
      if (best === null) {
        expect(found.fewestBound, `seed ${seed}`).toBeGreaterThan(site.inputs);
        continue;
      }
      const mine = score(units, vectorOf(units, found.groups));
      expect(mine.slice(0, 4), `seed ${seed}`).toEqual(best.slice(0, 4));
      expect(found, `seed ${seed}`).toMatchObject({ optimal: true, loss: best[1], bound: best[1] });
      const asked = units.flatMap((unit) => unit.asked ?? []);
      if (new Set(asked).size < asked.length) together += 1;
    }
    expect(together).toBeGreaterThan(SITES / 10);
  });
});
