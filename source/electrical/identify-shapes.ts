import type { LoopCandidate, LoopFacts } from './identified-loop.ts';
import { type Interval, overlaps, subtractIntervals } from './interval.ts';
import { RELAY_CLOSED_OHMS } from './loop.ts';
import { RESISTOR_RANGE } from './resistor-values.ts';

/** A style that the readings allow, and what its resistors must then be. */
export type LoopShape = Pick<LoopCandidate, 'style' | 'contacts' | 'resistorAt' | 'cableOhms'> & {
  readonly resistor: Interval | null;
  /** What the alarm resistor must be by each reading: one nominal value for all. Empty where there is none. */
  readonly alarms: readonly Interval[];
  /** What the resistor across each contact must be, each with a value of its own. */
  readonly bridges: readonly Interval[] | null;
  /** How often it is met beside the others: common practice, no source. */
  readonly weight: number;
};

/** What one reading is, beside the reading at rest. */
type Standing = 'open' | 'low' | 'lower' | 'higher' | 'same';

const isOpen = (reading: Interval) => reading.min === Number.POSITIVE_INFINITY;
const isLow = (reading: Interval, facts: LoopFacts) => reading.min <= facts.residual.max;

/** How a reading stands to the one at rest; `same` within what the meter can tell. */
export function standingOf(reading: Interval, facts: LoopFacts): Standing {
  if (isOpen(reading)) return 'open';
  if (overlaps(reading, facts.rest)) return 'same';
  if (reading.min > facts.rest.max) return 'higher';
  return isLow(reading, facts) ? 'low' : 'lower';
}

/** Every style these readings allow. */
export function shapesOf(facts: LoopFacts): readonly LoopShape[] {
  return SHAPES.flatMap((shape) => shape(facts));
}

type ShapeOf = (facts: LoopFacts) => readonly LoopShape[];

const bare = { resistor: null, alarms: [], bridges: null, resistorAt: null, cableOhms: null } as const;

function allActive(facts: LoopFacts, ...standings: readonly Standing[]): boolean {
  return facts.active.every((reading) => standings.includes(standingOf(reading, facts)));
}

/** The resistor that stands in the loop at rest, where one does. */
function restResistor(facts: LoopFacts): Interval | null {
  if (isOpen(facts.rest)) return null;
  const resistor = subtractIntervals(facts.rest, facts.residual);
  return resistor.max >= RESISTOR_RANGE.min * 0.95 ? resistor : null;
}

/** Where a resistor across the end sits: taken away at the panel it leaves open contacts alone. */
function acrossPlace({ field }: LoopFacts): 'panel' | 'detector' | 'unknown' {
  if (field === null) return 'unknown';
  return isOpen(field) ? 'panel' : 'detector';
}

/** Where a series resistor sits, from the reading of the field side alone. */
function seriesPlace({ field }: LoopFacts, resistor: Interval): 'panel' | 'detector' | 'unknown' {
  if (field === null) return 'unknown';
  return field.max < resistor.max ? 'panel' : 'detector';
}

/** A row of old contacts and corroded splices can reach this: common practice, no source. */
const CORRODED_OHMS = 500;

const plain: ShapeOf = (facts) => {
  if (facts.rest.min > CORRODED_OHMS || !allActive(facts, 'open')) return [];
  const weight = isLow(facts.rest, facts) ? 0.5 : 0.005;
  return [{ ...bare, style: 'plain', contacts: 'normally-closed', cableOhms: facts.rest.nominal, weight }];
};

const plainOpen: ShapeOf = (facts) => {
  const isWorked = facts.active.every((reading) => !isOpen(reading) && isLow(reading, facts));
  if (!isOpen(facts.rest) || !isWorked) return [];
  const cableOhms = facts.active.length > 0 ? lowest(facts.active) : null;
  return [{ ...bare, style: 'plain', contacts: 'normally-open', cableOhms, weight: 0.5 }];
};

const series: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || !allActive(facts, 'open')) return [];
  const resistorAt = seriesPlace(facts, resistor);
  return [{ ...bare, style: 'series', contacts: 'normally-closed', resistor, resistorAt, weight: 0.5 }];
};

const across: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || !allActive(facts, 'low')) return [];
  const cableOhms = facts.active.length > 0 ? lowest(facts.active) : null;
  return [
    {
      ...bare,
      style: 'across',
      contacts: 'normally-open',
      resistor: facts.active.length > 0 ? behindContacts(facts, resistor) : resistor,
      resistorAt: acrossPlace(facts),
      cableOhms,
      weight: 0.2,
    },
  ];
};

/** A contact that shorts the loop shows the cable up to it; a resistor behind it is what is left, or less. */
function behindContacts(facts: LoopFacts, resistor: Interval): Interval {
  return { ...resistor, nominal: facts.rest.nominal - lowest(facts.active) };
}

/** Whether a contact may be left that nobody has worked: one that is not known of counts as being there. */
export function isUnproved({ contacts, active }: LoopFacts): boolean {
  return contacts === null || contacts > active.length;
}

const mixed: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || !allActive(facts, 'open', 'low')) return [];
  const standings = new Set(facts.active.map((reading) => standingOf(reading, facts)));
  if (standings.size < 2 && !isUnproved(facts)) return [];
  const resistorAt = standings.has('low') ? 'detector' : 'unknown';
  return [{ ...bare, style: 'mixed', contacts: 'both', resistor, resistorAt, weight: 0.05 }];
};

const twoResistorUnworked: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || facts.active.length > 0) return [];
  return [twoResistor('unknown', resistor, [])];
};

const twoResistorClosed: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || facts.active.length === 0 || !allActive(facts, 'higher', 'same')) return [];
  return [
    twoResistor(
      'normally-closed',
      resistor,
      facts.active.map((reading) => acrossContact(reading, facts)),
    ),
  ];
};

const twoResistorOpen: ShapeOf = (facts) => {
  const resistor = restResistor(facts);
  if (resistor === null || facts.active.length === 0 || !allActive(facts, 'lower', 'low')) return [];
  return [
    twoResistor(
      'normally-open',
      resistor,
      facts.active.map((reading) => behindContact(reading, facts)),
    ),
  ];
};

function twoResistor(
  contacts: LoopShape['contacts'],
  resistor: Interval,
  alarms: readonly Interval[],
): LoopShape {
  return { ...bare, style: 'two-resistor', contacts, resistor, alarms, resistorAt: 'unknown', weight: 0.2 };
}

const bridged: ShapeOf = (facts) => {
  if (isOpen(facts.rest) || !allActive(facts, 'higher', 'same')) return [];
  const bridges = facts.active.map((reading) => acrossContact(reading, facts));
  const shape = { ...bare, style: 'bridged', contacts: 'normally-closed', bridges, weight: 0.05 } as const;
  const shapes: LoopShape[] = [];
  if (isLow(facts.rest, facts)) shapes.push({ ...shape, cableOhms: facts.rest.nominal });
  const resistor = restResistor(facts);
  // One contact with one bridge and a resistor is a two-resistor loop: the same circuit has one name.
  if (resistor !== null && (facts.active.length !== 1 || isUnproved(facts))) {
    shapes.push({ ...shape, resistor, resistorAt: seriesPlace(facts, resistor) });
  }
  return shapes;
};

/** A resistor across a contact: what the reading gains when the contact opens, and the contact's own ohms. */
function acrossContact(reading: Interval, facts: LoopFacts): Interval {
  const gained = subtractIntervals(reading, facts.rest);
  return { ...gained, max: gained.max + RELAY_CLOSED_OHMS.max };
}

/**
 * A resistor behind a contact that closes across the end resistor: the parallel law turned round. The
 * cable may lie before the contact or behind it; its bounds follow from the one and the other.
 */
function behindContact(reading: Interval, facts: LoopFacts): Interval {
  const { rest, residual } = facts;
  const behind = (both: number, end: number) =>
    both >= end ? Number.POSITIVE_INFINITY : 1 / (1 / both - 1 / end);
  const above = (ohms: number) => Math.max(1e-3, ohms);
  const least = behind(above(reading.min - residual.max), above(rest.max - residual.max));
  const likely = behind(above(reading.nominal - residual.nominal), above(rest.nominal - residual.nominal));
  const min = least - RELAY_CLOSED_OHMS.max;
  const max = behind(reading.max, rest.min);
  return { min, nominal: Math.min(Math.max(likely, min), max), max };
}

function lowest(readings: readonly Interval[]): number {
  return Math.min(...readings.map((reading) => reading.nominal));
}

const SHAPES: readonly ShapeOf[] = [
  plain,
  plainOpen,
  series,
  across,
  mixed,
  twoResistorUnworked,
  twoResistorClosed,
  twoResistorOpen,
  bridged,
];
