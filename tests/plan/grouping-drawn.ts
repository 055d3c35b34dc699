import type { Unit } from '../../source/plan/grouping/units.ts';

/** A small generator of numbers that is the same everywhere: mulberry32 (public domain, Tommy Ettinger). */
export function numbers(seed: number): () => number {
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
export function drawSite(
  seed: number,
  most: { detectors: number; inAZone: number },
  asking: { readonly share: number; readonly inputs: number } = {
    share: 0.05,
    inputs: Number.POSITIVE_INFINITY,
  },
): DrawnSite {
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
        asked: next() < asking.share ? `b1/${1 + (asked++ % asking.inputs)}` : null,
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

/**
 * Zones of thirteen and more units, and inputs that several units ask for: two values of importance and sizes to
 * three, so that few kinds of unit make up many units, and an integer programme can count them.
 */
export function drawAskedSite(seed: number, most: { units: number }): DrawnSite {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const units: Unit[] = [];
  const zones = 1 + upTo(2);
  let detectors = 0;
  let labels = 0;
  for (let zone = 1; zone <= zones; zone++) {
    const count = 13 + upTo(most.units - 12);
    const importances = [upTo(6), upTo(6)];
    const sizes = 1 + upTo(3);
    const asked = new Array<string | null>(count).fill(null);
    for (let label = 1 + upTo(6); label > 0; label--) {
      labels += 1;
      for (let asking = 1 + upTo(3); asking > 0; asking--) asked[upTo(count)] = `b1/${labels}`;
    }
    for (let position = 0; position < count; position++) {
      const size = next() < 0.7 ? 1 : 1 + upTo(sizes);
      units.push({
        detectors: Array.from({ length: size }, (_, at) => `d${detectors + at}`),
        zone: `z${zone}`,
        purpose: 'detection',
        size,
        importance: importances[upTo(2)]! * size,
        places: 1 << upTo(3),
        company: 'normally-closed:intruder',
        returns: [],
        asked: asked[position]!,
        position,
      });
      detectors += size;
    }
  }
  const mayShare = zones > 1 && next() < 0.2 && units.length < most.units * 1.6 ? [['z1', 'z2']] : [];
  return { units, mayShare, inputs: 1 + upTo(units.length) };
}

/**
 * A large site: zones of up to so many detectors, a quarter of them in sets joined in the field, one unit in twenty
 * asking for an input that others of its zone ask for as well, and inputs for a third to nine tenths of the units.
 */
export function drawLargeSite(seed: number, most: { detectors: number; inAZone: number }): DrawnSite {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const units: Unit[] = [];
  for (let zone = 1, detectors = 0; detectors < most.detectors; zone++) {
    const inZone = Math.min(most.detectors - detectors, 1 + upTo(most.inAZone));
    for (let placed = 0, position = 0; placed < inZone; position++) {
      const size = Math.min(inZone - placed, next() < 0.75 ? 1 : 1 + upTo(3));
      units.push({
        detectors: Array.from({ length: size }, (_, at) => `d${detectors + placed + at}`),
        zone: `z${zone}`,
        purpose: 'detection',
        size,
        importance: Array.from({ length: size }, () => upTo(6)).reduce((sum, one) => sum + one, 0),
        places: 1 << upTo(3),
        company: 'normally-closed:intruder',
        returns: [],
        asked: next() < 0.05 ? `b${zone}/${upTo(Math.ceil(inZone / 20))}` : null,
        position,
      });
      placed += size;
    }
    detectors += inZone;
  }
  return { units, mayShare: [], inputs: Math.floor(units.length * (0.33 + 0.57 * next())) };
}
