import type { Action, OpenStep } from '../../source/job/action.ts';
import type { Job } from '../../source/job/job.ts';
import { STAGES } from '../../source/procedure/step.ts';
import type { Building } from '../../source/rehearsal/building/building.ts';
import { drawBuilding } from '../../source/rehearsal/building/draw-building.ts';
import type { Scene } from '../../source/rehearsal/building/faults/fault.ts';
import { type Rehearsal, rehearse } from '../../source/rehearsal/rehearse.ts';
import { workCard } from '../../source/rehearsal/technician/card.ts';
import { outsideOf } from '../../source/rehearsal/technician/follow.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { carryOut, type Port } from '../../source/rehearsal/technician/work.ts';
import { DEMO, randomSite, type Site, withJob } from './run-rehearsal.ts';

/** The demo in turn with invented sites. */
export const siteOf = (seed: number): Site => (seed % 4 === 1 ? DEMO : randomSite(seed));

export const portOf = (job: Job): Port => ({
  next: () => job.next(),
  act: (action: Action) => job.act(action),
});

/** A reading that a fault moves out of its window: where, and what of it. */
export type Shown = { readonly step: string; readonly stage: string; readonly field: string };

/**
 * What each set of faults shows, worked out from the building alone: the same cards are carried out side by side
 * in the good building, whose job goes on, and in one with the faults, whose answers are only laid beside the
 * windows.
 */
export function foresee(site: Site, seed: number, faults: readonly (readonly string[])[]): Shown[][] {
  const shown: Shown[][] = faults.map(() => []);
  withJob(site, (job, scene) => {
    const good = enterBuilding(scene, seed, []);
    const twins = faults.map((names) => enterBuilding(scene, seed, names));
    const watch = (step: OpenStep) => {
      const natural = outsideOf(step, workCard(good, step));
      twins.forEach((twin, index) => {
        const fields = [...outsideOf(step, workCard(twin, step)).keys()].filter(
          (field) => !natural.has(field),
        );
        shown[index]!.push(...fields.map((field) => ({ step: step.id, stage: step.stage, field })));
      });
    };
    const worked = carryOut(portOf(job), enterBuilding(scene, seed, []), watch);
    if (!worked.closed)
      throw new Error(`the good building of seed ${seed} does not close: ${worked.stuck[0]}`);
  });
  return shown;
}

export type Trial = {
  readonly rehearsal: Rehearsal;
  readonly shown: readonly Shown[];
  /** Causes that were named where nothing was found, on cards that the faults do not touch. */
  readonly falseAlarms: number;
  readonly cards: number;
};

/** One rehearsal with faults in it. Null where the plan is blocked. */
export function tryFaults(
  site: Site,
  seed: number,
  faults: readonly string[],
  shown: readonly Shown[],
): Trial | null {
  return withJob(site, (job, scene) => {
    const rehearsal = rehearse(portOf(job), scene, seed, faults);
    const touched = new Set(shown.map(({ step }) => step));
    const natural = hasInduced(scene, seed);
    const falseAlarms = rehearsal.worked.catches.filter(
      ({ step, causes, found }) =>
        found.length === 0 && !touched.has(step) && !(natural && causes[0] === 'induced-voltage'),
    ).length;
    return { rehearsal, shown, falseAlarms, cards: rehearsal.worked.confirmations };
  });
}

const hasInduced = (scene: Scene, seed: number): boolean => {
  const building: Building = drawBuilding(scene.survey, scene.wiring, scene.boards, seed);
  return [...building.sources.values()].some(({ induced }) => induced);
};

/** The rank of the true cause among those named when the fault was found, from 1; null where it was not named. */
export function rankOf({ rehearsal }: Trial, fault: string): number | null {
  return rehearsal.caught.find((one) => one.fault === fault)?.rank ?? null;
}

export function isBeforePower(stage: string): boolean {
  return STAGES.indexOf(stage as (typeof STAGES)[number]) <= STAGES.indexOf('power-up');
}
