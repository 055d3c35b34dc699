import type { TypedValue } from '../../job/action.ts';
import type { ObservationProof, Proof, ReadingProof } from '../../procedure/step.ts';
import { DEAD_VOLTS } from '../../procedure/voltage.ts';
import type { Board } from '../../site/board.ts';
import { observe, type Seen } from '../building/input.ts';
import { LOW_INPUT_OHMS, readAmps, readOhms, readVolts, sweepVolts } from '../building/meter.ts';
import { choose } from './choose.ts';
import type { Visit } from './visit.ts';

/** About how long one answer takes a person with a meter. Common practice, no source. */
const SECONDS = { reading: 25, point: 3, choice: 8, text: 12, observation: 20 } as const;

/** What a technician who looks, measures and types what is there answers to one proof of a card. */
export function answerProof(
  visit: Visit,
  step: string,
  proof: Proof,
  before: Readonly<Record<string, TypedValue>>,
): TypedValue {
  switch (proof.kind) {
    case 'reading':
      visit.seconds += SECONDS.reading;
      return withContacts(visit, contactNames(visit, proof), () => typeReading(visit, proof, before));
    case 'sweep': {
      visit.seconds += SECONDS.point * proof.points.length;
      const mode = proof.of === 'volts-ac' ? 'ac' : 'dc';
      visit.swept = proof.points;
      const swept = sweepVolts(visit.building, mode, proof.points, sweptAgainst(visit));
      return { ...swept, greatest: `${swept.greatest.toFixed(2)} V` };
    }
    case 'choice':
      visit.seconds += SECONDS.choice;
      return choose(visit, step, proof);
    case 'text':
      visit.seconds += SECONDS.text;
      if (proof.check?.is === 'count' && proof.check.survey !== null) return `${proof.check.survey}`;
      return proof.offers[0] ?? (proof.numeric ? '12' : 'as seen on the spot').padEnd(proof.minLength, '.');
    case 'observation': {
      visit.seconds += SECONDS.observation;
      const board = visit.scene.boards.find(({ id }) => id === proof.board);
      if (board === undefined) return 'nothing';
      if (step.startsWith('prepare.')) return withJumper(visit, board, proof);
      return withContacts(visit, workedFor(visit, proof), () =>
        toldAs(visit, proof, observe(visit.building, board, proof.input)),
      );
    }
  }
}

/** On a tamper loop it is the tamper contact that is worked. */
export function contactNames({ scene }: Visit, { point, with: states }: ReadingProof): ReadingProof['with'] {
  const isTamper = scene.survey.tampers.some(({ id }) => point?.split('.')[1] === id);
  if (!isTamper) return states;
  const name = (detector: string) => (detector.endsWith('.tamper') ? detector : `${detector}.tamper`);
  return Object.fromEntries(Object.entries(states).map(([detector, state]) => [name(detector), state]));
}

/** Holds the contacts as asked while something is read, and lets them go again. */
export function withContacts<T>(
  visit: Visit,
  states: Readonly<Record<string, 'rest' | 'active' | 'unpowered'>>,
  read: () => T,
): T {
  const worked = Object.keys(states).filter((detector) => states[detector] === 'active');
  if (worked.length === 0) return read();
  visit.building = { ...visit.building, worked: new Set(worked) };
  const value = read();
  visit.building = { ...visit.building, worked: new Set() };
  return value;
}

/** What the meter shows with its leads where they are asked for, as it is typed. */
export function typeReading(
  visit: Visit,
  proof: ReadingProof,
  before: Readonly<Record<string, TypedValue>>,
): string {
  const { building } = visit;
  const [a, b] = proof.between;
  if (a.startsWith('known')) return `${(KNOWN_VOLTS[proof.of] * (1 + building.meter.gain)).toFixed(2)} V`;
  // A new part in the hand.
  if (a.startsWith('part:')) return `${Number(a.slice('part:'.length)) * (1 + building.meter.gain)} ohm`;
  if (proof.of === 'amps') return `${readAmps(building, a, b).toFixed(3)} A`;
  if (proof.of === 'ohms') {
    const ohms = readOhms(building, a, b);
    return Number.isFinite(ohms) ? `${Number(ohms.toPrecision(6))} ohm` : 'OL';
  }
  const mode = proof.of === 'volts-ac' ? 'ac' : 'dc';
  const swept = proof.when !== undefined && 'sweep' in proof.when ? before[proof.when.sweep] : undefined;
  if (typeof swept === 'object') {
    const against = sweptAgainst(visit);
    const shows = (point: string) =>
      against.some((other) => Math.abs(readVolts(building, mode, point, other)) > DEAD_VOLTS);
    const loaded = [swept.at, ...(visit.swept ?? []).filter(shows)].flatMap((point) =>
      against.map((other) => Math.abs(readVolts(building, mode, point, other, LOW_INPUT_OHMS))),
    );
    return `${Math.max(...loaded).toFixed(2)} V`;
  }
  const [plus, minus] = heldAt(visit, proof.between);
  return `${readVolts(building, mode, plus, minus).toFixed(2)} V`;
}

/** At a device the leads are held to its own terminals, whatever was brought to them. */
function heldAt({ building, scene }: Visit, [a, b]: readonly [string, string]): readonly [string, string] {
  const fed = scene.wiring.loads.find(({ positive, negative }) => positive === a && negative === b);
  const load = building.loads.find(({ device }) => device === fed?.device);
  if (load !== undefined) return [load.positive, load.negative];
  const wired = scene.wiring.contacts.find((one) => one.a === a && one.b === b);
  const contact = building.contacts.find(
    ({ detector, purpose }) => detector === wired?.detector && purpose === wired.purpose,
  );
  return contact === undefined ? [a, b] : [contact.a, contact.b];
}

/** A fresh block battery, and a bell transformer: what the instrument is tried on. */
const KNOWN_VOLTS: Readonly<Record<ReadingProof['of'], number>> = {
  'volts-dc': 9.3,
  'volts-ac': 12.4,
  ohms: 0,
  amps: 0,
};

/** On the bench a jumper stands in for the loop; on an input that supervises, its resistor. */
function withJumper(visit: Visit, board: Board, proof: ObservationProof): string {
  const input = board.inputs.find(({ id }) => id === proof.input);
  if (input === undefined) return 'nothing';
  const [a, b] = [`${board.id}:${input.terminal}`, `${board.id}:${input.common}`];
  const bridges = new Map(visit.building.bridges).set('jumper', {
    id: 'jumper',
    a,
    b,
    ohms: board.supervision?.resistorOhms ?? 0.1,
  });
  const seen = observe({ ...visit.building, bridges }, board, proof.input);
  return seen === 'normal' ? 'closed' : toldAs(visit, proof, seen);
}

/** An input that supervises shows a loop at rest as normal; whoever looks tells it as the contact stands. */
function toldAs(visit: Visit, proof: ObservationProof, seen: Seen): string {
  const isOpenAtRest = restsOpen(visit, proof.detector);
  switch (seen) {
    case 'normal':
      return isOpenAtRest ? 'open' : 'closed';
    case 'short':
      return isOpenAtRest ? 'closed' : 'nothing';
    default:
      return seen;
  }
}

/** What a sweep holds its second lead to: earth and the negative of whatever supply is still there. */
export function sweptAgainst(visit: Visit): string[] {
  return ['earth', ...new Set(visit.building.rails.map(({ minus }) => minus))];
}

/** The detector is worked where it must show the other of what it shows at rest. */
function workedFor(visit: Visit, proof: ObservationProof): Record<string, 'rest' | 'active'> {
  const tamper = visit.scene.survey.tampers.find(({ id }) => id === proof.detector);
  if (tamper !== undefined) {
    return { [`${tamper.through[0] ?? 'lid'}.tamper`]: proof.expect === 'closed' ? 'rest' : 'active' };
  }
  const atRest = restsOpen(visit, proof.detector) ? 'open' : 'closed';
  return { [proof.detector]: proof.expect === atRest ? 'rest' : 'active' };
}

/** As its contact is wired: a changeover contact has a side for either. */
function restsOpen({ building }: Visit, detector: string): boolean {
  return building.contacts.some(
    (one) => one.detector === detector && one.purpose === 'alarm' && one.sense === 'normally-open',
  );
}
