import type { Circuit, Connection } from '../../plan/plan.ts';
import { leakOhms } from '../../plan/points/aux-cold.ts';
import type { Act, FitResistor } from '../../wiring/act.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import { CANNOT, card, choice, reading, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, landsAt, listed, placeName } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Proof, Step } from '../step.ts';
import { mountStep } from './mount.ts';
import { fitChoice, partReading } from './resistor-items.ts';

/** Stage 12: cable by cable, one conductor at a time, each to the terminal that the plan names. */
export function rewireSteps(facts: Facts): Step[] {
  return rewiredCables(facts).map((cable) => rewire(facts, cable));
}

export const rewireStep = (cable: string) => `rewire.${cable}`;

type Landing = { readonly conductor: WiredConductor; readonly connection: Connection; readonly at: string };

const byCable = new WeakMap<Facts, ReadonlyMap<string, readonly Landing[]>>();

function landingsOf(facts: Facts, cable: string): readonly Landing[] {
  const known = byCable.get(facts) ?? groupByCable(facts);
  byCable.set(facts, known);
  return known.get(cable) ?? [];
}

function groupByCable(facts: Facts): Map<string, Landing[]> {
  const groups = new Map<string, Landing[]>();
  for (const landing of allLandings(facts)) {
    const { cable } = landing.conductor;
    groups.set(cable, [...(groups.get(cable) ?? []), landing]);
  }
  return groups;
}

function allLandings(facts: Facts): Landing[] {
  return facts.conductors.flatMap((conductor) => {
    const connection = facts.connection(conductor.id);
    const at = landsAt(facts, conductor);
    return connection && at !== null ? [{ conductor, connection, at }] : [];
  });
}

/** Cables with at least one conductor that lands on a board or in a joint, in the order of the survey. */
export function rewiredCables(facts: Facts): string[] {
  return facts.plan.survey.cables.map((one) => one.id).filter((id) => landingsOf(facts, id).length > 0);
}

const byCircuit = new WeakMap<Facts, Map<Circuit, readonly string[]>>();

/** Cables whose wires make up a circuit, in the order in which they are landed. */
export function cablesOf(facts: Facts, circuit: Circuit): readonly string[] {
  const known = byCircuit.get(facts) ?? new Map<Circuit, readonly string[]>();
  byCircuit.set(facts, known);
  const cables = known.get(circuit) ?? findCables(facts, circuit);
  known.set(circuit, cables);
  return cables;
}

function findCables(facts: Facts, circuit: Circuit): string[] {
  const own = `${circuit.board}:${circuit.terminal}`;
  const common = `${circuit.board}:${circuit.common}`;
  const joint = `joint:${circuit.board}/${circuit.input}.`;
  const serves = ({ conductor, at }: Landing) =>
    at === own ||
    at === `${own}:resistor` ||
    at.startsWith(joint) ||
    (at === common && isOf(facts, circuit, conductor));
  return rewiredCables(facts).filter((cable) => landingsOf(facts, cable).some(serves));
}

/** A common is shared by inputs: of the wires on it only those of the circuit's own detectors count. */
function isOf(facts: Facts, circuit: Circuit, conductor: WiredConductor): boolean {
  const cables = new Set(circuit.detectors.map((id) => rootOf(facts, facts.detector(id)?.cable ?? '')));
  return cables.has(conductor.cable) || (circuit.purpose === 'tamper' && conductor.zone === circuit.fromZone);
}

function rootOf(facts: Facts, cable: string): string {
  const from = facts.cable(cable)?.from ?? 'panel';
  return from === 'panel' ? cable : rootOf(facts, from);
}

const BY: Readonly<Record<Connection['by'], string>> = {
  direct: 'under the screw',
  splice: 'spliced',
  pigtail: 'spliced with its neighbours, one pigtail from there under the screw',
  block: 'to the distribution block',
  extension: 'joined to an extension lead',
  parked: 'parked',
  untouched: 'left',
};

/**
 * From the supply's wire to each loop wire of its cable while both are free: once they are landed, an unpowered board beside
 * them hides what a damaged jacket lets through. Common practice to look for it; the figure is the board's own.
 */
function leaks(facts: Facts, landings: readonly Landing[]): Proof[] {
  const plus = landings.find(({ conductor }) => conductor.use === 'aux-positive');
  if (plus === undefined) return [];
  return landings.flatMap(({ conductor, connection }): Proof[] => {
    const board = facts.plan.boards.find(({ id }) => 'board' in connection.to && id === connection.to.board);
    if (conductor.use !== 'loop' || board === undefined) return [];
    const least = leakOhms(board);
    const isOpen = !Number.isFinite(least);
    return [
      {
        after: 0,
        ...reading({
          field: `leak:${conductor.id}`,
          of: 'ohms',
          label: `Both still free: ${plus.conductor.colour} to ${conductor.colour} of ${conductor.cable}`,
          between: [plus.conductor.id, conductor.id],
          min: isOpen ? null : least,
          usable: isOpen ? null : { min: least, max: null },
          open: isOpen ? 'must' : 'may',
          danger: true,
          catches: isOpen ? [] : [{ fault: 'aux that leaks onto an input', gives: least * 0.98 }],
          follows:
            'Land neither: aux would be put on the input through the damaged cable. Use another pair, or another cable.',
        }),
      },
    ];
  });
}

function rewire(facts: Facts, cable: string): Step {
  const landings = landingsOf(facts, cable);
  const circuits = facts.circuits.filter((circuit) => cablesOf(facts, circuit).includes(cable));
  const last = circuits.filter((circuit) => cablesOf(facts, circuit).at(-1) === cable);
  const earlier = last.flatMap((circuit) => cablesOf(facts, circuit).filter((one) => one !== cable));
  const sounder = facts.selfPowered.find((one) => one.cable === cable);
  const fits = circuits.flatMap((circuit) => fitsOn(facts, circuit, cable));
  const boards = new Set(landings.flatMap(({ connection: { to } }) => ('board' in to ? [to.board] : [])));
  return card('rewire', {
    id: rewireStep(cable),
    title: `Land ${cable}: ${listed(landings.map(({ conductor, at }) => `${conductor.colour} on ${placeName(at)}`))}`,
    why: names(facts, circuits) ?? 'One wire at a time, and nothing is where it should not be.',
    cautions: cautions('static', 'metal-box'),
    acts: [
      ...fits.filter(({ across }) => !across),
      ...landings.map(({ conductor, at }): Act => ({ do: 'land', conductor: conductor.id, at })),
      ...fits.filter(({ across }) => across),
    ],
    needs: 'dead',
    hard: false,
    waitsFor: [
      ...(boards.size > 0 ? [...boards] : facts.plan.boards.map((board) => board.id)).map(mountStep),
      ...new Set(earlier.map(rewireStep)),
    ],
    about: [cable, ...new Set(circuits.flatMap((circuit) => circuit.detectors))],
    proof: [
      ...leaks(facts, landings),
      ...newParts(facts, fits),
      ...fits.map((fit) => fitChoice(facts, fit)),
      ...landings.map(({ conductor, connection, at }) =>
        choice(conductor.id, `${conductor.colour} of ${cable} to ${placeName(at)}, ${BY[connection.by]}`, [
          ['held', 'In, and it held a tug', 'pass'],
          [
            'other-colour',
            'The label says something else',
            'fail',
            'Land nothing. Follow that wire to its label and its cable, and correct the survey if it is another one.',
          ],
          [
            'will-not-fit',
            'It does not fit',
            'fail',
            'Insulate its end. Land it once it can be joined so that it holds.',
          ],
        ]),
      ),
      ...when(
        sounder !== undefined,
        choice('hold-off', 'A temporary source that held it off', [
          ['taken-off', 'Taken off just before', 'pass'],
          ['none', 'There was none', 'pass'],
          CANNOT,
        ]),
      ),
      ...last.flatMap((circuit) => landedPoints(facts, circuit).map((point) => pointReading(facts, point))),
    ],
  });
}

/**
 * A resistor at an input goes in before the wire that lands on its free leg; one across the input once both its wires
 * are there.
 */
function fitsOn(facts: Facts, circuit: Circuit, cable: string): readonly FitResistor[] {
  const fits = facts.plan.work.inputs[`${circuit.board}/${circuit.input}`] ?? [];
  const cables = cablesOf(facts, circuit);
  return fits.filter(({ across, between }) => {
    const first = cables.find((one) => landingsOf(facts, one).some(({ at }) => at === between[1]));
    return cable === (across ? cables.at(-1) : (first ?? cables[0]));
  });
}

function newParts(facts: Facts, fits: readonly FitResistor[]) {
  const parts = fits.flatMap((fit) => partReading(facts, fit) ?? []);
  return [...new Map(parts.map((part) => [part.field, part])).values()];
}

function names(facts: Facts, circuits: readonly Circuit[]): string | null {
  const detectors = [...new Set(circuits.flatMap((circuit) => circuit.detectors))];
  if (detectors.length === 0) return null;
  return `It brings ${listed(detectors.map((id) => facts.detector(id)?.name ?? id))}.`;
}

/**
 * At rest only: worked contacts are seen by the input itself once it has power. But a resistor at a contact shows in
 * no other state than worked.
 */
function landedPoints(facts: Facts, circuit: Circuit) {
  const hasAtContact = Object.values(circuit.resistors).some((work) => work.newAlarmOhms !== undefined);
  return facts
    .points('landed', circuit.fromZone)
    .filter((point) => point.circuit?.board === circuit.board && point.circuit.input === circuit.input)
    .filter((point) => hasAtContact || !Object.values(point.with).includes('active'));
}
