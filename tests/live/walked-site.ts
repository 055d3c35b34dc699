import { type TourStop, tourStops } from '../../source/job/hearing/tour.ts';
import type { Building } from '../../source/rehearsal/building/building.ts';
import { observe } from '../../source/rehearsal/building/input.ts';
import { landingAt } from '../../source/rehearsal/building/places.ts';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import type { Board } from '../../source/site/board.ts';
import { randomSite, withJob } from '../rehearsal/run-rehearsal.ts';
import { portOf } from '../rehearsal/trial.ts';

type State = 'open' | 'closed';

/** A building after its changeover: what its boards tell is worked out from its wires, contacts and voltages. */
export class WalkedSite {
  readonly boards: readonly Board[];
  readonly stops: readonly TourStop[];
  readonly #rest: Building;

  constructor(boards: readonly Board[], stops: readonly TourStop[], building: Building) {
    this.boards = boards;
    this.stops = stops;
    this.#rest = building;
  }

  /** The same with what lands on two inputs exchanged: the wires are moved, and nothing else. */
  exchanged(a: string, b: string): WalkedSite {
    const [here, there] = [this.#terminal(a), this.#terminal(b)];
    const wires = new Map(
      [...this.#rest.wires].map(([id, wire]) => {
        const near = wire.near === here ? there : wire.near === there ? here : wire.near;
        return [id, { ...wire, near }];
      }),
    );
    return new WalkedSite(this.boards, this.stops, { ...this.#rest, wires });
  }

  /** What every input shows while these detectors are worked, by `board/input`. */
  shows(worked: readonly string[]): ReadonlyMap<string, State> {
    const building = { ...this.#rest, worked: new Set(worked) };
    const found = new Map<string, State>();
    for (const board of this.boards)
      for (const { id } of board.inputs) {
        const seen = observe(building, board, id);
        const rest = this.stops.find((stop) => stop.id === `${board.id}/${id}`)?.restored.expect ?? 'closed';
        // An input that supervises tells that all is normal, and else that it is not.
        if (seen === 'normal') found.set(`${board.id}/${id}`, rest);
        else if (board.supervision !== null && seen !== 'nothing')
          found.set(`${board.id}/${id}`, rest === 'open' ? 'closed' : 'open');
        else if (seen === 'open' || seen === 'closed') found.set(`${board.id}/${id}`, seen);
      }
    return found;
  }

  #terminal(id: string): string {
    const [board = '', input = ''] = id.split('/');
    const terminal = this.boards
      .find((one) => one.id === board)
      ?.inputs.find((one) => one.id === input)?.terminal;
    const at = `${board}:${terminal}`;
    return landingAt(this.#rest, at);
  }
}

/** Carries out the changeover of a random site of about thirty detectors; null where its plan is blocked. */
export function walkedSite(seed: number): WalkedSite | null {
  const site = randomSite(seed, {
    zones: 20,
    detectors: 30,
    lifeSafety: false,
    tampers: false,
    unknowns: false,
  });
  return withJob(site, (job, scene) => {
    const { visit } = rehearse(portOf(job), scene, seed, []);
    const stops = tourStops(job.procedure.steps.filter(({ stage }) => stage === 'walk-test'));
    return new WalkedSite(scene.boards, stops, visit.building);
  });
}
