import type { Scene } from './building/faults/fault.ts';
import { FAULTS } from './building/faults/list.ts';
import { enterBuilding, type Visit } from './technician/visit.ts';
import { carryOut, type Port, type Worked } from './technician/work.ts';

type Caught = {
  readonly fault: string;
  readonly step: string;
  readonly stage: string;
  readonly causes: readonly string[];
  /** The rank of the true cause among those named, from 1; null where it was not named. */
  readonly rank: number | null;
};

/** How a rehearsal went. */
export type Rehearsal = {
  readonly seed: number;
  readonly faults: readonly string[];
  readonly caught: readonly Caught[];
  readonly missed: readonly string[];
  /** Faults that this building has no place for. */
  readonly noPlace: readonly string[];
  readonly worked: Worked;
  readonly harm: readonly string[];
  readonly seconds: number;
  readonly visit: Visit;
};

/** A whole changeover carried out in a building that answers. */
export function rehearse(port: Port, scene: Scene, seed: number, faults: readonly string[]): Rehearsal {
  const visit = enterBuilding(scene, seed, faults);
  const worked = carryOut(port, visit);
  const caught = worked.catches.flatMap(({ step, stage, causes, ranks, found }) =>
    found.map((fault) => ({ fault, step, stage, causes, rank: ranks[causes.indexOf(fault)] ?? null })),
  );
  const standing = visit.faults.map(({ name }) => name);
  return {
    seed,
    faults: standing,
    caught,
    missed: standing.filter((name) => !caught.some(({ fault }) => fault === name)),
    noPlace: faults.filter((name) => !standing.some((one) => one === name)),
    worked,
    harm: visit.building.harm.map(({ says }) => says),
    seconds: visit.seconds,
    visit,
  };
}

/** Every fault there is: its name, a sentence, and whether it can harm. */
export function listFaults(): { name: string; says: string; harms: boolean }[] {
  return FAULTS.map(({ name, says, harms }) => ({ name, says, harms }));
}
