import { type ContactStates, type Expression, evaluateLoop } from '../electrical/loop.ts';
import { inputReads } from '../electrical/sensing.ts';
import type { Board } from '../site/board.ts';
import type { Loop, Survey } from '../site/survey.ts';
import type { CircuitEnds, CircuitJoin } from './connections/circuit-ends.ts';
import { type Destinations, nodeOf } from './connections/destination.ts';
import type { Unit } from './grouping/units.ts';
import { type Elements, resistorOf } from './loops/elements.ts';
import type { Ends } from './loops/ends.ts';
import type { Field } from './loops/field.ts';
import { edgesOf, isAtPanel } from './loops/network.ts';
import { type Edge, reduceBetween } from './loops/reduce.ts';
import { computeResistorWork, hasResistors, NO_WORK } from './loops/resistor-work.ts';
import { expectedOf, type InputState, marginOn, usableOn } from './loops/windows.ts';
import type { Circuit, OhmsWindow, ResistorWork } from './plan.ts';

export type CircuitContext = {
  readonly survey: Survey;
  readonly field: Field;
  readonly elements: Elements;
  readonly destinations: Destinations;
  readonly endsOf: (unit: Unit) => Ends;
};

/** What each new input is wired with and must read, in every state of its contacts. */
export function computeCircuits(context: CircuitContext, circuits: readonly CircuitEnds[]): Circuit[] {
  const perZone = new Map<string, number>();
  for (const { placed } of circuits)
    for (const zone of zonesOf(placed.group.units)) perZone.set(zone, (perZone.get(zone) ?? 0) + 1);
  const owners = new Set<string>();
  return circuits.map((ends) => {
    const zones = zonesOf(ends.placed.group.units);
    return computeCircuit(context, ends, {
      split: zones.some((zone) => perZone.get(zone)! > 1),
      owned: zones.filter((zone) => ownsResistor(context.survey, ends, zone, owners)),
    });
  });
}

function zonesOf(units: readonly Unit[]): string[] {
  return [...new Set(units.map(({ zone }) => zone))];
}

export function loopOf(survey: Survey, zone: string): Loop {
  return [...survey.zones, ...survey.tampers].find(({ id }) => id === zone)!.loop;
}

/** Of a split zone's circuits one has the resistor: where it sits, or the first where it sits at the panel. */
function ownsResistor(survey: Survey, { placed }: CircuitEnds, zone: string, owners: Set<string>): boolean {
  const { resistorAt } = loopOf(survey, zone);
  const sitsAt = resistorAt !== null && typeof resistorAt === 'object' ? resistorAt.detector : null;
  const mine =
    sitsAt === null
      ? !owners.has(zone)
      : placed.group.units.some(({ detectors }) => detectors.includes(sitsAt));
  if (mine) owners.add(zone);
  return mine;
}

const GONE: ResistorWork = { work: 'remove', ohms: null, at: null, newOhms: null };

/** Whether a zone of the circuit is split, and whose resistor the circuit has. */
type ZoneFacts = { readonly split: boolean; readonly owned: readonly string[] };

/** What becomes of the resistor of each zone on the circuit: at most one stays, that of the first zone. */
function worksOf(
  { survey }: CircuitContext,
  { placed, join }: CircuitEnds,
  { split, owned }: ZoneFacts,
  loopMaxOhms: number,
): Record<string, ResistorWork> {
  const zones = zonesOf(placed.group.units);
  return Object.fromEntries(
    zones.map((zone, index) => {
      const loop = loopOf(survey, zone);
      const asked = { loop, join, board: placed.board, elsewhere: !owned.includes(zone), split, loopMaxOhms };
      const work = computeResistorWork(asked);
      const stays = index === 0 && (zones.length === 1 || placed.board.supervision !== null);
      if (stays || work.work === 'none') return [zone, work];
      return [zone, hasResistors(loop) ? { ...work, work: 'remove', newOhms: null } : NO_WORK];
    }),
  );
}

function computeCircuit(context: CircuitContext, ends: CircuitEnds, facts: ZoneFacts): Circuit {
  const { survey } = context;
  const { board, input, group } = ends.placed;
  const [first] = group.units;
  const bare = expressionOn(context, ends, () => GONE);
  const resistors = worksOf(context, ends, facts, evaluateLoop(bare, closedStates(bare)).max);
  const resistor = resistors[first!.zone]!;
  const expression = expressionOn(context, ends, (zone) => resistors[zone]!);
  const contacts = contactsOf(expression);
  const atRest = senseOf(contacts);
  const restState: InputState = board.supervision ? 'normal' : atRest === 'normally-open' ? 'open' : 'closed';
  const isOpenAtRest = atRest === 'normally-open';
  const activeState: InputState =
    board.supervision?.style === 'two-resistor'
      ? isOpenAtRest
        ? 'alarm-across'
        : 'alarm-in-row'
      : isOpenAtRest
        ? 'closed'
        : 'open';
  const windowAt = (states: ContactStates, state: InputState): OhmsWindow => ({
    expected: expectedOf(evaluateLoop(expression, states)),
    usable: usableOn(board, state),
  });
  const needsSupply = contacts.filter(({ unpowered }) => unpowered !== null).map(({ detector }) => detector);
  const unpowered = Object.fromEntries(needsSupply.map((id) => [id, 'unpowered' as const]));
  const workedClosed = evaluateLoop(expression, closedStates(expression));
  const workedOpen = evaluateLoop(expression, openStates(expression));
  return {
    board: board.id,
    input: input.id,
    terminal: input.terminal,
    common: input.common,
    contact: atRest,
    detectors: detectorsOf(survey, group.units),
    fromZone: first!.zone,
    purpose: first!.purpose,
    split: facts.split,
    resistor,
    resistors,
    expression,
    rest: windowAt({}, restState),
    active: Object.fromEntries(
      contacts.map(({ detector }) => [detector, windowAt({ [detector]: 'active' }, activeState)]),
    ),
    unpowered:
      needsSupply.length === 0
        ? null
        : { expected: expectedOf(evaluateLoop(expression, unpowered)), usable: null },
    margin: marginOn(board, workedClosed, workedOpen),
    ifResistorLeft: leftInPlace(context, ends, resistor, board),
  };
}

/** The detectors that report on an input; for a tamper loop what it passes through. */
function detectorsOf(survey: Survey, units: readonly Unit[]): string[] {
  return units.flatMap((unit) =>
    unit.purpose === 'tamper'
      ? (survey.tampers.find(({ id }) => id === unit.zone)?.through ?? [])
      : unit.detectors,
  );
}

/** The circuit between its two screws with its resistors as given. */
function expressionOn(
  context: CircuitContext,
  ends: CircuitEnds,
  standOf: (zone: string) => ResistorWork,
): Expression {
  const { survey, field, elements, destinations } = context;
  const { board, input, group } = ends.placed;
  const terminal = `${board.id}:${input.terminal}`;
  const common = `${board.id}:${input.common}`;
  const edges: Edge[] = zonesOf(group.units).flatMap((zone) => {
    const units = group.units.filter((unit) => unit.zone === zone);
    return edgesOf(field, elements, {
      zone,
      loop: loopOf(survey, zone),
      detectors: units.some(({ purpose }) => purpose === 'tamper')
        ? null
        : units.flatMap((unit) => unit.detectors),
      resistors: standOf(zone),
      nearOf: ({ id, near }) => {
        const to = destinations.of(id);
        const node = to ? nodeOf(id, to) : near;
        // A return that several circuits share lies on one common, and that is linked to the others.
        return to && 'terminal' in to && to.board === board.id && isCommonOf(board, to.terminal)
          ? common
          : node;
      },
    });
  });
  const fieldSide = reduceBetween(edges, terminal, common);
  return withPanelResistor(context, ends, fieldSide, standOf(group.units[0]!.zone));
}

function isCommonOf(board: Board, terminal: string): boolean {
  return board.inputs.some(({ common }) => common === terminal);
}

/** A resistor at the panel, kept or new, stands between the field and the screws. */
function withPanelResistor(
  { survey, field }: CircuitContext,
  { placed, join }: CircuitEnds,
  fieldSide: Expression,
  stand: ResistorWork,
): Expression {
  const [unit] = placed.group.units;
  const keptHere = field
    .resistorsOf(unit!.zone)
    .filter((resistor) => resistor.role === 'end-of-line' && isAtPanel(resistor));
  const ohms =
    stand.work === 'fit' || (stand.work === 'replace' && keptHere.length > 0)
      ? stand.newOhms
      : stand.work === 'keep' && keptHere.length > 0
        ? loopOf(survey, unit!.zone).resistorOhms
        : null;
  return ohms === null ? fieldSide : besides(fieldSide, resistorOf(ohms), join);
}

function besides(fieldSide: Expression, resistor: Expression, join: CircuitJoin): Expression {
  return { kind: join, of: [fieldSide, resistor] };
}

/** What the input would make of the loop at rest if the resistor that is to go stayed. */
function leftInPlace(
  context: CircuitContext,
  ends: CircuitEnds,
  { work, ohms }: ResistorWork,
  board: Board,
): Circuit['ifResistorLeft'] {
  if ((work !== 'remove' && work !== 'replace') || ohms === null) return null;
  const left = expressionOn(context, ends, () => ({ work: 'keep', ohms, at: null, newOhms: null }));
  return inputReads(evaluateLoop(left, {}).nominal, board.sensing);
}

type Contact = Extract<Expression, { kind: 'contact' }>;

export function contactsOf(expression: Expression): Contact[] {
  if (expression.kind === 'contact') return [expression];
  return expression.kind === 'series' || expression.kind === 'parallel'
    ? expression.of.flatMap(contactsOf)
    : [];
}

function senseOf(contacts: readonly Contact[]): Circuit['contact'] {
  const senses = new Set(contacts.map(({ sense }) => sense));
  return senses.size === 1 ? [...senses][0]! : 'unknown';
}

function closedStates(expression: Expression): ContactStates {
  return statesWhere(expression, 'normally-open');
}

function openStates(expression: Expression): ContactStates {
  return statesWhere(expression, 'normally-closed');
}

/** Every contact of this sense worked, the others at rest. */
function statesWhere(expression: Expression, worked: Contact['sense']): ContactStates {
  return Object.fromEntries(
    contactsOf(expression)
      .filter(({ sense }) => sense === worked)
      .map(({ detector }) => [detector, 'active' as const]),
  );
}
