import type { Scene } from './building/faults/fault.ts';
import { FAULTS } from './building/faults/list.ts';
import { seededRandom } from './building/random.ts';
import { enterBuilding } from './technician/visit.ts';

/** Faults drawn by a seed, of those that the building of this seed has a place for. */
export function drawFaults(scene: Scene, seed: number, count: number): readonly string[] {
  const drawn: string[] = [];
  for (const name of seededRandom(seed, 'faults').shuffled(FAULTS.map((fault) => fault.name))) {
    if (drawn.length === count) break;
    if (enterBuilding(scene, seed, [name]).faults.length > 0) drawn.push(name);
  }
  return drawn;
}
