import type { Survey } from '../../site/survey.ts';
import type { Act, FitResistor } from '../../wiring/act.ts';
import type { Bench } from '../../wiring/bench.ts';
import type { FittedResistor, Wiring } from '../../wiring/wiring.ts';
import type { SettledCircuit } from '../circuits/settle.ts';
import type { FittedWork, ZonePlan } from '../plan.ts';
import { type WayOut, wayOutOf } from './way-out.ts';

/** Off its screw, what the zone's leg consists of. A doubled core comes off with its mate. */
export function liftActs(bench: Bench, { lift }: ZonePlan, isHeld: (conductor: string) => boolean): Act[] {
  const acts: Act[] = lift.conductors
    .filter((id) => !isHeld(id))
    .map((conductor) => ({ do: 'lift', conductor, at: lift.terminal }));
  return doAll(bench, acts);
}

/**
 * What is done to the resistors of a zone before it is landed, in the order of the hands: at the panel first, then
 * detector by detector, each old part out before a new one goes in. New parts at an input wait for the input.
 */
export function resistorActs(
  bench: Bench,
  survey: Survey,
  found: Wiring,
  zone: ZonePlan,
  circuits: readonly SettledCircuit[],
): Act[] {
  const acts: Act[] = [];
  const done = (...some: readonly Act[]) => acts.push(...doAll(bench, some));
  const ways = zone.fitted
    .map((one) => ({ one, way: wayOutOf(survey, found, zone.id, one.id) }))
    .filter(({ one, way }) => one.work !== 'keep' || way === 'panel');
  for (const { one, way } of ways) if (way === 'panel') done(takeOut(zone.id, one));
  for (const { one, way } of ways) {
    if (way === 'panel') continue;
    const resistor = bench.resistor(one.id);
    if (resistor !== undefined) done(...atDetector(bench, zone.id, one, resistor, way));
  }
  for (const circuit of circuits.filter(({ resistors }) => zone.id in resistors))
    for (const fit of atContacts(bench, survey, zone.id, circuit)) done(fit);
  return acts;
}

function takeOut(zone: string, { id }: FittedWork): Act {
  return { do: 'remove-resistor', resistor: id, zone };
}

/** One out at a detector: taken out and its ends joined, or another in its place; or its jumper set. */
function atDetector(
  bench: Bench,
  zone: string,
  { id, role, newOhms, at }: FittedWork,
  { a, b }: FittedResistor,
  way: Exclude<WayOut, 'panel'>,
): Act[] {
  const detector = typeof at === 'object' ? at.detector : undefined;
  const fresh = role === 'end-of-line' && newOhms !== null && detector !== undefined;
  const newPart = (between: FitResistor['between']): Act => ({
    do: 'fit-resistor',
    zone,
    ohms: newOhms!,
    between,
    detector: detector!,
  });
  const out: Act = { do: 'remove-resistor', resistor: id, zone };
  if (way === 'jumper-across') {
    const set: Act = { do: 'set-jumper', resistor: id, zone, ohms: null, leaves: 'open' };
    return fresh ? [set, newPart([a, b])] : [set];
  }
  if (way === 'jumper') {
    const set: Act = { do: 'set-jumper', resistor: id, zone, ohms: null, leaves: 'through' };
    if (!fresh) return [set];
    // A jumper offers its own values alone: another one goes in the row with the wires at one of its terminals.
    const side = [a, b].find((node) => bench.conductorsAt(node).length > 0);
    if (side === undefined) return [{ ...set, leaves: 'open' }, newPart([a, b])];
    const leg = `${side}:resistor`;
    const wires = bench
      .conductorsAt(side)
      .map((conductor): Act => ({ do: 'move', conductor, from: side, to: leg }));
    return [set, ...wires, newPart([leg, side])];
  }
  if (fresh) return [out, newPart([a, b])];
  return way === 'across' ? [out] : [out, { do: 'splice', into: a, from: b }];
}

/** A board that supervises with two resistors wants one at each contact: across one that opens, in the row with one that closes. */
function* atContacts(
  bench: Bench,
  survey: Survey,
  zone: string,
  { resistors, purpose, detectors }: SettledCircuit,
): Generator<FitResistor> {
  const ohms = resistors[zone]?.newAlarmOhms;
  if (ohms === undefined) return;
  const members = [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)!;
  const own = 'detectors' in members ? members.detectors : members.through;
  const contact = purpose === 'tamper' ? 'tamper' : 'alarm';
  for (const detector of own) {
    if (purpose !== 'tamper' && !detectors.includes(detector)) continue;
    const there = bench.contact(detector, contact, zone);
    if (there === undefined) continue;
    const { a, b, sense } = there;
    const leg = `post:${detector}.${contact}:resistor`;
    const between = sense === 'normally-open' ? ([leg, b] as const) : ([a, b] as const);
    yield { do: 'fit-resistor', zone, ohms, between, detector, contact };
  }
}

/** Joins that come apart, and what came off one screw together where each pair is read by itself. */
export function partActs(
  bench: Bench,
  zone: ZonePlan,
  conductors: readonly string[],
  isSplit: boolean,
): Act[] {
  const joins = zone.joins.filter(({ part }) => part).map(({ id }) => id);
  const places = new Map<string, string[]>();
  for (const id of conductors) {
    const near = bench.near(id);
    if (joins.includes(near) || (isSplit && near.startsWith('lifted:')))
      places.set(near, [...(places.get(near) ?? []), id]);
  }
  for (const { id, conductors: all } of zone.joins)
    if (places.has(id))
      places.set(
        id,
        all.filter((one) => bench.near(one) === id),
      );
  const acts = [...places].flatMap(([join, here]): Act[] =>
    here.length < 2 ? [] : [{ do: 'part', join, conductors: here }],
  );
  return doAll(bench, acts);
}

/**
 * Does acts on the bench, for the next ones to find what they left.
 *
 * @throws Error where one cannot be done: a plan whose work cannot be done in its order is a defect
 */
export function doAll(bench: Bench, acts: readonly Act[]): Act[] {
  for (const act of acts) {
    const hindrance = bench.do(act);
    if (hindrance !== null) throw new Error(`${JSON.stringify(act)} cannot be done: ${hindrance}`);
  }
  return [...acts];
}
