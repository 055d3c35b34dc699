import { addIntervals, type Interval } from '../../electrical/interval.ts';
import type { Cable, Survey } from '../../site/survey.ts';
import { pairOhms } from '../../site/worth.ts';
import type { CoreUse } from '../../wiring/wiring.ts';

/** The cores of one cable that serve a device with one use, lying side by side. */
type Strand = { readonly key: string; readonly cores: number };

/** Ohms of one way over so many cores of a cable that lie side by side. */
export type CopperOf = (cable: Cable, cores: number) => Interval;

/** As the cable lies: half a pair, shared by the cores. */
export function copperOf(survey: Survey): CopperOf {
  return (cable, cores) => scaled(pairOhms(cable, survey), 1 / (2 * cores));
}

/** So many times as much, all of its bounds. */
export function scaled({ min, nominal, max }: Interval, by: number): Interval {
  return { min: min * by, nominal: nominal * by, max: max * by };
}

/** Out and back over a cable, for a device that takes its supply by these two uses. */
export function supplyPairOhms(
  cable: Cable,
  device: string,
  [positive, negative]: readonly [CoreUse, CoreUse],
  copper: CopperOf,
): Interval {
  const way = (use: CoreUse) => copper(cable, strandOf(cable, device, use).cores);
  return addIntervals(way(positive), way(negative));
}

/**
 * Which cores of a cable carry a device's current: its own where it has some, else those that name no device,
 * else whatever has the use. A cable whose cores nobody has listed counts as one pair.
 */
export function strandOf(cable: Cable, device: string, use: CoreUse): Strand {
  const of = cable.cores.flatMap((core, at) => (core.use === use ? [{ for: core.for, at }] : []));
  const own = of.filter((core) => core.for === device);
  const open = own.length > 0 ? own : of.filter((core) => core.for === null);
  const used = (open.length > 0 ? open : of.slice(0, 1)).map(({ at }) => at);
  const beside = used.reduce((sum, at) => sum + doublesOf(cable, at), 0);
  return { key: `${cable.id}/${used.join('+')}`, cores: Math.max(1, used.length + beside) };
}

/** A doubled core lies beside the one listed before it. */
function doublesOf(cable: Cable, at: number): number {
  let count = 0;
  while (cable.cores[at + count + 1]?.use === 'doubled') count += 1;
  return count;
}
