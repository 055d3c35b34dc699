import type { Cause } from '../../electrical/causes.ts';
import type { Building } from '../building/building.ts';
import { drawBuilding } from '../building/draw-building.ts';
import type { Placed, Scene } from '../building/faults/fault.ts';
import { faultNamed } from '../building/faults/list.ts';
import { type Random, seededRandom } from '../building/random.ts';

/** A fault that stands in the building, or stood there until it was put right. */
export type StandingFault = { readonly name: Cause; readonly placed: Placed; mended: boolean };

/** A technician in a building: what stands there now, and how long the work took so far. */
export type Visit = {
  readonly scene: Scene;
  building: Building;
  readonly faults: StandingFault[];
  readonly random: Random;
  /** Seconds of work, as the hands would take them. */
  seconds: number;
  /** Sounders whose own battery was put back: it comes off again before dead is proved anew. */
  readonly soundersPutBack: Set<string>;
  /** Where the leads were held in the last sweep: what showed a voltage there is read again. */
  swept?: readonly string[];
};

/**
 * The building of a site by its seed, with faults in it. A fault that this building has no place for is left
 * out: {@link Visit.faults} says which stand.
 */
export function enterBuilding(scene: Scene, seed: number, faults: readonly string[]): Visit {
  const random = seededRandom(seed, 'visit');
  let building = drawBuilding(scene.survey, scene.wiring, scene.boards, seed);
  const standing: StandingFault[] = [];
  // By its name, so that a fault sits where it sits whatever else is wrong.
  for (const name of new Set(faults)) {
    const fault = faultNamed(name);
    const placed = fault?.place(building, scene, random.stream(`fault/${name}`)) ?? null;
    if (fault === null || placed === null) continue;
    building = placed.building;
    standing.push({ name: fault.name, placed, mended: false });
  }
  return { scene, building, faults: standing, random, seconds: 0, soundersPutBack: new Set() };
}
