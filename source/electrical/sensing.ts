import type { Bounds } from './interval.ts';

/** How an input tells closed from open: a pull-up to a reference, and two thresholds on the voltage. */
export type Sensing = {
  readonly pullUpOhms: number;
  readonly referenceVolts: number;
  readonly closedBelowVolts: number;
  readonly openAboveVolts: number;
  /** Fraction; 0 where not given. */
  readonly pullUpTolerance?: number;
};

/** An open pair must leak less than this even where the input would forgive more. Common practice, no source. */
const LEAST_OPEN_OHMS = 1e6;
/** How many times above the input's own limit an open pair must read: damp gets worse. Common practice, no source. */
const OPEN_RESERVE = 10;

/**
 * Volts at an input with a resistance across it: reference · R / (R + pull-up).
 *
 * @param ohms 0 to Infinity
 * @example inputVolts(2200, {pullUpOhms: 2200, referenceVolts: 12}) // => 6
 */
export function inputVolts(ohms: number, sensing: Pick<Sensing, 'pullUpOhms' | 'referenceVolts'>): number {
  if (ohms === Number.POSITIVE_INFINITY) return sensing.referenceVolts;
  return (sensing.referenceVolts * ohms) / (ohms + sensing.pullUpOhms);
}

/** Ohms across an input that give these volts at it: the divider turned round. */
function ohmsAt(volts: number, pullUpOhms: number, referenceVolts: number, riseVolts: number): number {
  if (volts >= referenceVolts) return Number.POSITIVE_INFINITY;
  return Math.max(0, (pullUpOhms * (volts - riseVolts)) / (referenceVolts - volts));
}

/**
 * Largest loop that surely reads closed, and smallest leak that surely reads open, over the pull-up's
 * tolerance.
 *
 * @param returnRiseVolts what other currents lift a shared return by; it makes closed harder to reach
 * @example sensingLimits({pullUpOhms: 10000, referenceVolts: 3.3, closedBelowVolts: 0.8, openAboveVolts: 2}) // => {maxClosedOhms: 3200, minOpenOhms: 15384.6}
 */
export function sensingLimits(
  sensing: Sensing,
  returnRiseVolts = 0,
): { maxClosedOhms: number; minOpenOhms: number } {
  const { pullUpOhms, referenceVolts, closedBelowVolts, openAboveVolts, pullUpTolerance = 0 } = sensing;
  const least = pullUpOhms * (1 - pullUpTolerance);
  const most = pullUpOhms * (1 + pullUpTolerance);
  return {
    maxClosedOhms: ohmsAt(closedBelowVolts, least, referenceVolts, returnRiseVolts),
    minOpenOhms: ohmsAt(openAboveVolts, most, referenceVolts, 0),
  };
}

/**
 * What a loop may have so that its input, its return lifted by other currents, stands no higher than it would with
 * these ohms and a return by itself: the input sees the rise as more loop.
 *
 * @param returnRiseVolts what other currents lift a shared return by
 * @example ohmsUnderRise(3200, {pullUpOhms: 10000, referenceVolts: 3.3}, 0.3) // => 2000
 */
export function ohmsUnderRise(
  ohms: number,
  sensing: Pick<Sensing, 'pullUpOhms' | 'referenceVolts'>,
  returnRiseVolts: number,
): number {
  if (ohms === Number.POSITIVE_INFINITY || returnRiseVolts === 0) return ohms;
  return ohmsAt(inputVolts(ohms, sensing), sensing.pullUpOhms, sensing.referenceVolts, returnRiseVolts);
}

/**
 * What other currents lift the return of a loop by: the volts at its input less what its own current makes.
 *
 * @param volts at the input
 * @param ohms of the loop, its part of the shared return included
 * @example returnRise(0.8, 2000, {pullUpOhms: 10000, referenceVolts: 3.3}) // => 0.3
 */
export function returnRise(
  volts: number,
  ohms: number,
  { pullUpOhms, referenceVolts }: Pick<Sensing, 'pullUpOhms' | 'referenceVolts'>,
): number {
  return Math.max(0, volts - ((referenceVolts - volts) / pullUpOhms) * ohms);
}

/**
 * What an input makes of a resistance: `between` is where it may show either, or flutter.
 *
 * @example inputReads(2200, {pullUpOhms: 10000, referenceVolts: 3.3, closedBelowVolts: 0.8, openAboveVolts: 2}) // => 'closed'
 */
export function inputReads(
  ohms: number,
  sensing: Sensing,
  returnRiseVolts = 0,
): 'closed' | 'open' | 'between' {
  const { maxClosedOhms, minOpenOhms } = sensingLimits(sensing, returnRiseVolts);
  if (ohms < maxClosedOhms) return 'closed';
  return ohms > minOpenOhms ? 'open' : 'between';
}

/**
 * What a closed pair may read so that half the input's margin is left.
 *
 * @example usableClosed({pullUpOhms: 10000, referenceVolts: 3.3, closedBelowVolts: 0.8, openAboveVolts: 2}) // => {min: 0, max: 1600}
 */
export function usableClosed(sensing: Sensing, returnRiseVolts = 0): Bounds {
  return { min: 0, max: sensingLimits(sensing, returnRiseVolts).maxClosedOhms / 2 };
}

/**
 * What an open pair must read: ten times what the input needs, and 1 MΩ at least.
 *
 * @example usableOpen({pullUpOhms: 10000, referenceVolts: 3.3, closedBelowVolts: 0.8, openAboveVolts: 2}) // => {min: 1000000, max: Infinity}
 */
export function usableOpen(sensing: Sensing): Bounds {
  const { minOpenOhms } = sensingLimits(sensing);
  return { min: Math.max(LEAST_OPEN_OHMS, OPEN_RESERVE * minOpenOhms), max: Number.POSITIVE_INFINITY };
}

/**
 * Amps through a closed pair. Old contacts want about a milliamp to break through their film (common
 * practice, no source).
 *
 * @example contactAmps({pullUpOhms: 2200, referenceVolts: 12}) // => 0.0054545
 */
export function contactAmps(sensing: Pick<Sensing, 'pullUpOhms' | 'referenceVolts'>, loopOhms = 0): number {
  return sensing.referenceVolts / (sensing.pullUpOhms + loopOhms);
}
