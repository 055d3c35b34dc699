import type { ChoiceProof } from '../../procedure/step.ts';
import type { Building } from '../building/building.ts';
import { circuitOf } from '../building/circuit.ts';
import { sounding } from '../building/sounders.ts';
import type { Visit } from './visit.ts';

/**
 * What a person on the spot answers where the card lets choose: what is seen, where it shows in the building.
 * What has no bearing on the wiring is as one hopes it is: first what passes, then what opens a branch.
 */
export function choose(visit: Visit, step: string, proof: ChoiceProof): string {
  const { options } = proof;
  const seen = SIGHTS.find(
    (one) => one.step.test(step) && one.field.test(proof.field) && one.shows(visit, step),
  );
  const told = options.find(({ id }) => id === seen?.option);
  const hoped =
    options.find(({ leads }) => leads === 'pass') ?? options.find(({ leads }) => leads === 'branch');
  return (told ?? hoped ?? options[0])?.id ?? '';
}

/** What eyes and ears tell, by the card and the field that asks for it. */
type Sight = {
  readonly step: RegExp;
  readonly field: RegExp;
  readonly option: string;
  readonly shows: (visit: Visit, step: string) => boolean;
};

const lastPart = (step: string) => step.slice(step.lastIndexOf('.') + 1);

const SIGHTS: readonly Sight[] = [
  // Of the ways to keep a sounder quiet the one that leaves no pair live.
  { step: /^sounder\.plan\./, field: /^way$/, option: 'at-box', shows: () => true },
  {
    step: /^sounder\.(at-box|restore)\./,
    field: /^battery$/,
    option: 'none',
    shows: ({ building }, step) => !hasBattery(building, lastPart(step)),
  },
  {
    step: /^prepare\.adapter\./,
    field: /^polarity$/,
    option: 'reversed',
    shows: ({ building }, step) => (building.sources.get(`adapter:${lastPart(step)}`)?.volts ?? 0) < 0,
  },
  {
    step: /^cold\.look$/,
    field: /^loose$/,
    option: 'some',
    shows: ({ building }) => [...building.wires.values()].some(({ near }) => near.startsWith('loose:')),
  },
  {
    step: /^power\.adapter$/,
    field: /^signs$/,
    option: 'some',
    shows: ({ building }) => building.harm.some(({ kind }) => kind === 'board-destroyed'),
  },
  {
    step: /^power\.supply\./,
    field: /^detectors$/,
    option: 'dead',
    shows: ({ building, scene }, step) => {
      const feeds = scene.survey.supplies.find(({ id }) => id === lastPart(step))?.feeds ?? [];
      return !feeds.every((device) => circuitOf(building, 'dc').running.has(device));
    },
  },
  {
    step: /^walk\.sounder\./,
    field: /^sound$/,
    option: 'silent',
    shows: (visit, step) => !canSound(visit, lastPart(step)),
  },
];

/** An output that is asked for more than it gives switches itself off. */
function canSound({ building, scene }: Visit, sounder: string): boolean {
  if (building.sounders.some(({ id }) => id === sounder)) {
    const alarming = new Set(scene.boards.map(({ id }) => id));
    return sounding({ ...building, alarming }).includes(sounder);
  }
  const load = building.loads.find(({ device }) => device === sounder);
  if (load === undefined) return false;
  return scene.boards.some((board) => {
    if (board.sounder === null || load.standbyAmps > board.sounder.amps) return false;
    return isWired(building, `${board.id}:${board.sounder.positive}`, load.positive);
  });
}

function isWired(building: Building, a: string, b: string): boolean {
  return circuitOf(building, 'dc').solved.ohms(a, b) < 200;
}

const hasBattery = ({ sources, sounders }: Building, sounder: string) =>
  sources.has(`sounder:${sounder}`) ||
  sounders.some(({ id, battery }) => id === sounder && battery !== 'none');
