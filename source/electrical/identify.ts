import type { Identification, LoopCandidate, LoopFacts, LoopReadings } from './identified-loop.ts';
import { contradictionIn } from './identify-contradictions.ts';
import { type LoopShape, shapesOf } from './identify-shapes.ts';
import { candidateWords } from './identify-words.ts';

export type { Identification, LoopCandidate, LoopReadings } from './identified-loop.ts';

import { addIntervals, type Interval, overlaps, within } from './interval.ts';
import { type Accuracy, METER, RELAY_CLOSED_OHMS, RESISTOR_TOLERANCE, trueOhms } from './loop.ts';
import { type LikelyValue, likelyValues } from './resistor-values.ts';

/** Conductors and contacts of a loop, where nothing is known of them: common practice, no source. */
const UNKNOWN_RESIDUAL: Interval = { min: 0, nominal: 10, max: 100 };

/** The least that an alarm or bridge resistor has: common practice, no source. */
const LEAST_ALARM_OHMS = 330;

/**
 * What loop gives these readings: its style, the nominal values of its resistors, and where they sit if the
 * readings tell. Everything that fits is given; nothing is forced into a style that it does not fit. A contact that was not
 * worked, or that nobody knows of, may be of either kind: then no answer stands alone.
 *
 * @param meter how far each reading may be off
 * @example identifyLoop({restOhms: 2230, activeOhms: [Infinity], contacts: 1}).candidates.map((one) => [one.style, one.resistorOhms]) // => [['series', 2200]]
 */
export function identifyLoop(readings: LoopReadings, meter: Accuracy = METER.ohms): Identification {
  const facts = factsOf(readings, meter);
  const shapes = shapesOf(facts);
  const weighed = shapes.flatMap((shape) => candidatesOf(shape, facts.seen));
  const impossible = contradictionIn(facts, weighed.length > 0);
  if (impossible !== null) return { candidates: [], ambiguous: false, impossible, ask: [] };
  const total = weighed.reduce((sum, one) => sum + one.fit, 0);
  const candidates = weighed
    .map((one) => ({ ...one, fit: total > 0 ? one.fit / total : 1 }))
    .sort((a, b) => b.fit - a.fit)
    .map((one) => ({ ...one, says: candidateWords(one) }));
  const ask = questions(candidates, readings);
  return { candidates, ambiguous: candidates.length > 1 || isUnworkedOpen(readings), impossible, ask };
}

function factsOf(readings: LoopReadings, meter: Accuracy): LoopFacts {
  const { restOhms, activeOhms = [], tamperOhms, fieldOhms, cableOhms, contacts } = readings;
  const { resistorOhms, resistorTolerance = RESISTOR_TOLERANCE } = readings;
  const truth = (ohms: number | undefined) => (ohms === undefined ? null : trueOhms(ohms, meter));
  const count = contacts ?? Math.max(1, activeOhms.length);
  // Each contact may be an electronic one with its protection resistor; the first is within the unknown's bound.
  const residual =
    cableOhms === undefined
      ? { ...UNKNOWN_RESIDUAL, max: UNKNOWN_RESIDUAL.max + RELAY_CLOSED_OHMS.max * (count - 1) }
      : addIntervals(cableOhms, ...Array.from({ length: count }, () => RELAY_CLOSED_OHMS));
  return {
    rest: trueOhms(restOhms, meter),
    active: activeOhms.map((ohms) => trueOhms(ohms, meter)),
    tamper: truth(tamperOhms),
    field: truth(fieldOhms),
    residual,
    contacts: contacts ?? null,
    seen: resistorOhms === undefined ? null : within(resistorOhms, resistorTolerance),
  };
}

type Weighed = Omit<LoopCandidate, 'says'>;

/**
 * Every pairing of the values a shape may have. Of bridges, each further value of one contact stands with
 * the likeliest of the others: all values are given without multiplying them out.
 */
function candidatesOf(shape: LoopShape, seen: Interval | null): Weighed[] {
  const { style, contacts, resistorAt, cableOhms } = shape;
  const base = { style, contacts, resistorAt, cableOhms };
  const resistors = restValues(shape.resistor, seen);
  const alarms = shape.alarms.length === 0 ? [null] : commonValues(shape.alarms);
  return resistors.flatMap((resistor) =>
    alarms.flatMap((alarm) =>
      combineBridges(shape.bridges).map((bridges) => ({
        ...base,
        resistorOhms: resistor?.ohms ?? null,
        alarmResistorOhms: alarm?.ohms ?? null,
        bridgeOhms: bridges === null ? null : bridges.map((bridge) => bridge.ohms),
        fit:
          shape.weight *
          [resistor, alarm, ...(bridges ?? [])].reduce((product, value) => product * (value?.weight ?? 1), 1),
      })),
    ),
  );
}

function restValues(resistance: Interval | null, seen: Interval | null): readonly (LikelyValue | null)[] {
  if (resistance === null) return [null];
  if (seen === null) return likelyValues(resistance);
  return overlaps(resistance, seen) ? [{ ohms: seen.nominal, weight: 1 }] : [];
}

/** Nominal values that suit every one of these resistances. */
function commonValues(resistances: readonly Interval[]): readonly LikelyValue[] {
  const [first = [], ...others] = resistances.map(alarmValues);
  return first.filter(({ ohms }) => others.every((list) => list.some((value) => value.ohms === ohms)));
}

/** A smaller resistor would be lost in the tolerance of the one in series with it. */
function alarmValues(resistance: Interval): readonly LikelyValue[] {
  return likelyValues(resistance).filter((value) => value.ohms >= LEAST_ALARM_OHMS);
}

function combineBridges(bridges: readonly Interval[] | null): readonly (readonly LikelyValue[] | null)[] {
  if (bridges === null) return [null];
  const values = bridges.map(alarmValues);
  if (values.some((list) => list.length === 0)) return [];
  const best = values.map((list) => list[0]!);
  const others = values.flatMap((list, at) => list.slice(1).map((value) => best.with(at, value)));
  return [best, ...others];
}

/** Whether a contact that is known of has not been worked; of a loop whose contacts nobody counted, whether none has. */
function isUnworked({ contacts, activeOhms = [] }: LoopReadings): boolean {
  return contacts === undefined ? activeOhms.length === 0 : contacts > activeOhms.length;
}

function isUnworkedOpen({ restOhms, activeOhms = [] }: LoopReadings): boolean {
  return restOhms === Number.POSITIVE_INFINITY && activeOhms.length === 0;
}

function questions(candidates: readonly Weighed[], readings: LoopReadings): string[] {
  const differs = (what: (one: Weighed) => unknown) =>
    new Set(candidates.map((one) => JSON.stringify(what(one)))).size > 1;
  const asks: [boolean, string][] = [
    [
      isUnworkedOpen(readings) || (differs((one) => one.style) && isUnworked(readings)),
      'each detector worked',
    ],
    [differs((one) => one.style) && readings.contacts === undefined, 'how many contacts it has'],
    [differs((one) => [one.resistorOhms, one.alarmResistorOhms, one.bridgeOhms]), 'resistor colours'],
    [differs((one) => one.resistorOhms) && readings.cableOhms === undefined, 'cable length and conductor'],
    [
      candidates.some((one) => one.resistorAt === 'unknown') && readings.fieldOhms === undefined,
      'field side alone',
    ],
  ];
  return asks.filter(([isAsked]) => isAsked).map(([, ask]) => ask);
}
