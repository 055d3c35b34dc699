import { isUnder } from './limit.ts';

/** How long a system must live without mains, by whose rule. */
export type StandbyPreset = {
  readonly id: string;
  readonly holdUpHours: number;
  readonly alarmHours: number;
  /** Fraction added for ageing. */
  readonly margin: number;
  readonly source: string;
};

/**
 * Named policies. Where a rule states no alarm time or margin, 15 minutes and 25 % stand in: a battery is
 * replaced at 80 % of its capacity (IEEE 485 ageing factor 1.25, from memory).
 */
export const STANDBY_PRESETS: readonly StandbyPreset[] = [
  { id: 'grade-1', holdUpHours: 12, alarmHours: 0.25, margin: 0.25, source: 'EN 50131-6 type A, grade 1' },
  { id: 'grade-2', holdUpHours: 12, alarmHours: 0.25, margin: 0.25, source: 'EN 50131-6 type A, grade 2' },
  { id: 'grade-3', holdUpHours: 60, alarmHours: 0.25, margin: 0.25, source: 'EN 50131-6 type A, grade 3' },
  {
    id: 'grade-3-reported',
    holdUpHours: 30,
    alarmHours: 0.25,
    margin: 0.25,
    source: 'EN 50131-6 type A, grade 3, mains fault reported to a receiving centre',
  },
  { id: 'premises-24h', holdUpHours: 24, alarmHours: 0.25, margin: 0.25, source: 'NFPA 731, 2008 edition' },
  {
    id: 'central-station',
    holdUpHours: 4,
    alarmHours: 0.25,
    margin: 0.25,
    source: 'CSAA STA-1 Guide 1996/2010 §2.4 (4 h); 15 min of notification is trade best practice',
  },
  {
    id: 'defence-8h',
    holdUpHours: 8,
    alarmHours: 0.25,
    margin: 0.25,
    source: 'UFC 4-021-02NF §9-6.3.1 (2006)',
  },
];

/** 12 V sealed lead-acid sizes in the trade, Ah (tradesmanjack.com; open-exam-prep.com). */
export const BATTERY_SIZES = [1.2, 1.9, 2.1, 2.8, 3.2, 4, 7, 7.2, 10, 12, 17, 18, 26, 33, 40, 55] as const;

/** Exponent of sealed lead-acid: 1.05 to 1.15 published; the cautious end. */
const PEUKERT = 1.15;
/** A sealed battery's capacity is stated at the 20-hour rate (JIS C 8702-1). */
const RATED_HOURS = 20;
/** Charge put in over charge got back. Common practice, no source. */
const CHARGE_FACTOR = 1.2;

/** A whole number of batteries that is exceeded by less than anybody knows is that number. */
const ALMOST = 1 - 1e-9;

/** IEEE 485 Table 1, from memory; agrees within 0.014 with the published cubic fit at every row. */
const TEMPERATURE_FACTORS: readonly (readonly [celsius: number, factor: number])[] = [
  [-3.9, 1.52],
  [-1.1, 1.43],
  [1.7, 1.35],
  [4.4, 1.3],
  [7.2, 1.25],
  [10, 1.19],
  [12.8, 1.15],
  [15.6, 1.11],
  [18.3, 1.08],
  [20, 1.056],
  [21.1, 1.04],
  [25, 1],
  [26.7, 0.98],
  [29.4, 0.96],
  [32.2, 0.94],
  [35, 0.93],
  [37.8, 0.91],
  [51.7, 0.85],
];

/** At what temperatures a battery is reckoned at all, °C: beyond them there is none in a building. */
export const BATTERY_CELSIUS = { min: -40, max: 90 } as const;

/** Where the table ends, °C. */
export const TEMPERATURE_RANGE = { min: -3.9, max: 51.7 } as const;

/**
 * How much more capacity a lead-acid battery needs at a temperature than at 25 °C: IEEE 485, linear
 * between rows. Below the table its first slope is carried on; above it the last factor stays.
 *
 * @example temperatureFactor(20) // => 1.056
 */
export function temperatureFactor(celsius: number): number {
  if (celsius >= TEMPERATURE_RANGE.max) return 0.85;
  const above = Math.max(
    1,
    TEMPERATURE_FACTORS.findIndex(([at]) => at > celsius),
  );
  const [lowAt, low] = TEMPERATURE_FACTORS[above - 1]!;
  const [highAt, high] = TEMPERATURE_FACTORS[above]!;
  return low + ((high - low) * (celsius - lowAt)) / (highAt - lowAt);
}

export type StandbyNeed = {
  readonly standbyAmps: number;
  readonly holdUpHours: number;
  readonly alarmAmps: number;
  readonly alarmHours: number;
  /** Fraction; 0 where not given. */
  readonly margin?: number;
  /** Of the battery; no temperature is applied where it is not given. */
  readonly celsius?: number;
};

/**
 * Capacity needed, Ah: (standby A × hold-up h + alarm A × alarm h) × (1 + margin) × temperature factor.
 *
 * @example requiredAmpHours({standbyAmps: 0.25, holdUpHours: 24, alarmAmps: 1.5, alarmHours: 5 / 60}) // => 6.125
 */
export function requiredAmpHours(need: StandbyNeed): number {
  const drawn = need.standbyAmps * need.holdUpHours + need.alarmAmps * need.alarmHours;
  return drawn * (1 + (need.margin ?? 0)) * factorAt(need.celsius);
}

/**
 * Capacity that {@link holdUpHours} says lasts through the standby time and the alarm behind it, Ah: each takes its
 * part of what the battery could give at that current alone. Above C/20 this may be more than the sum asks for.
 *
 * @example lastingAmpHours({standbyAmps: 1, holdUpHours: 20, alarmAmps: 1, alarmHours: 0}) // => 20
 * @example lastingAmpHours({standbyAmps: 1, holdUpHours: 5.98, alarmAmps: 1, alarmHours: 0}) // => 7
 */
export function lastingAmpHours(need: Omit<StandbyNeed, 'margin'>): number {
  const { standbyAmps, alarmAmps, celsius } = need;
  const shareOf = (capacityAmpHours: number) => {
    const lasts = (amps: number) =>
      holdUpHours({ capacityAmpHours, amps, ...(celsius !== undefined && { celsius }) });
    return need.holdUpHours / lasts(standbyAmps) + need.alarmHours / lasts(alarmAmps);
  };
  let low = 0;
  let high = requiredAmpHours(need) + 1e-6;
  while (shareOf(high) > 1) [low, high] = [high, high * 2];
  for (let halving = 0; halving < 60; halving++) {
    const middle = (low + high) / 2;
    if (shareOf(middle) > 1) low = middle;
    else high = middle;
  }
  return high;
}

/**
 * What a battery must have, Ah: the sum of the standards, or what lasts as long by Peukert's law, whichever is more,
 * so that one that suffices also holds up for the time that was asked.
 *
 * @example neededAmpHours({standbyAmps: 0.25, holdUpHours: 24, alarmAmps: 1.5, alarmHours: 5 / 60, margin: 0.2}) // => 7.35
 */
export function neededAmpHours(need: StandbyNeed): number {
  return Math.max(requiredAmpHours(need), lastingAmpHours(need));
}

/**
 * Next standard size up, Ah. Above the largest, as many of the largest in parallel as it takes.
 *
 * @example chosenAmpHours(12.48) // => 17
 */
export function chosenAmpHours(required: number): number {
  const largest = BATTERY_SIZES[BATTERY_SIZES.length - 1]!;
  const enough = BATTERY_SIZES.find((size) => !isUnder(size, required));
  return enough ?? Math.ceil((required / largest) * ALMOST) * largest;
}

/**
 * How long a charged battery carries a current, hours: Peukert's law in its hour-rate form above C/20, and
 * no bonus below it.
 *
 * @returns Infinity for no current
 * @example holdUpHours({capacityAmpHours: 7, amps: 1}) // => 5.98
 */
export function holdUpHours(battery: {
  readonly capacityAmpHours: number;
  readonly amps: number;
  readonly celsius?: number;
}): number {
  const { capacityAmpHours, amps, celsius } = battery;
  const straight = capacityAmpHours / amps;
  const hours = straight >= RATED_HOURS ? straight : RATED_HOURS * (straight / RATED_HOURS) ** PEUKERT;
  return hours / factorAt(celsius);
}

/**
 * Hours to fill an empty battery: C / charging current × 1.2.
 *
 * @example rechargeHours(7, 0.3) // => 28
 */
export function rechargeHours(capacityAmpHours: number, chargeAmps: number): number {
  return (capacityAmpHours / chargeAmps) * CHARGE_FACTOR;
}

function factorAt(celsius: number | undefined): number {
  return celsius === undefined ? 1 : temperatureFactor(celsius);
}
