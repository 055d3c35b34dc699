import type { Unit } from '../../source/plan/grouping/units.ts';

/** A small generator of numbers that is the same everywhere: mulberry32 (public domain, Tommy Ettinger). */
function numbers(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
}

export type DrawnSite = {
  readonly units: readonly Unit[];
  readonly mayShare: readonly (readonly string[])[];
  readonly inputs: number;
};

/** Units of a random site: zones with single detectors and sets, panic and flood among them, some asked for. */
export function drawSite(seed: number, most: { detectors: number; inAZone: number }): DrawnSite {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const total = 1 + upTo(most.detectors);
  const units: Unit[] = [];
  let detectors = 0;
  let asked = 0;
  for (let zone = 1; detectors < total; zone++) {
    const inZone = Math.min(total - detectors, 1 + upTo(most.inAZone));
    const sense = next() < 0.8 ? 'normally-closed' : 'normally-open';
    for (let placed = 0, position = 0; placed < inZone; position++) {
      const size = Math.min(inZone - placed, next() < 0.75 ? 1 : 1 + upTo(3));
      const kind = next();
      const id = `d${detectors + placed}`;
      const company = kind < 0.04 ? `alone:${id}` : kind < 0.12 ? `${sense}:flood` : `${sense}:intruder`;
      units.push({
        detectors: Array.from({ length: size }, (_, at) => `d${detectors + placed + at}`),
        zone: `z${zone}`,
        purpose: 'detection',
        size,
        importance: Array.from({ length: size }, () => upTo(6)).reduce((sum, one) => sum + one, 0),
        places: 1 << upTo(3),
        company,
        returns: [],
        asked: next() < 0.05 ? `b1/${++asked}` : null,
        position,
      });
      placed += size;
    }
    detectors += inZone;
  }
  const zones = [...new Set(units.map((unit) => unit.zone))];
  const mayShare =
    next() < 0.4 && zones.length > 1 ? [[zones[upTo(zones.length)]!, zones[upTo(zones.length)]!]] : [];
  return { units, mayShare: mayShare.filter(([a, b]) => a !== b), inputs: 1 + upTo(units.length + 1) };
}
