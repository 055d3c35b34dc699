import { type ContactStates, evaluateLoop } from '../../electrical/loop.ts';
import { inputReads } from '../../electrical/sensing.ts';
import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import type { Unit } from '../grouping/units.ts';
import { closedStates, contactsOf, openStates, senseOf } from '../loops/contacts.ts';
import { expectedOf, type InputState, marginOn, usableOn } from '../loops/windows.ts';
import type { Circuit, OhmsWindow, ResistorWork } from '../plan.ts';
import { type CircuitContext, expressionOn, zonesOf } from './circuit-loop.ts';
import { ownsResistor, worksOf, type ZoneFacts } from './circuit-resistors.ts';

/** A loop with every resistor gone. */
const GONE: ResistorWork = { work: 'remove', ohms: null, at: null, newOhms: null };

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
  const states = inputStates(board, atRest === 'normally-open');
  // A contact of unknown sense may stand either way: its first reading tells, and nothing is judged.
  const windowAt = (standing: ContactStates, state: InputState): OhmsWindow => {
    const expected = expectedOf(evaluateLoop(expression, standing));
    return { expected, usable: expected === null ? null : usableOn(board, state) };
  };
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
    rest: windowAt({}, states.rest),
    active: Object.fromEntries(
      contacts.map(({ detector }) => [detector, windowAt({ [detector]: 'active' }, states.active)]),
    ),
    unpowered:
      needsSupply.length === 0
        ? null
        : { expected: expectedOf(evaluateLoop(expression, unpowered)), usable: null },
    margin: marginOn(board, workedClosed, workedOpen),
    ifResistorLeft: leftInPlace(context, ends, resistor, board),
  };
}

/** What the input is to make of its loop, at rest and worked. */
function inputStates(board: Board, isOpenAtRest: boolean): { rest: InputState; active: InputState } {
  const worked: InputState = isOpenAtRest ? 'closed' : 'open';
  if (board.supervision === null) return { rest: isOpenAtRest ? 'open' : 'closed', active: worked };
  const withBoth: InputState = isOpenAtRest ? 'alarm-across' : 'alarm-in-row';
  return { rest: 'normal', active: board.supervision.style === 'two-resistor' ? withBoth : worked };
}

/** The detectors that report on an input; for a tamper loop what it passes through. */
function detectorsOf(survey: Survey, units: readonly Unit[]): string[] {
  return units.flatMap((unit) =>
    unit.purpose === 'tamper'
      ? (survey.tampers.find(({ id }) => id === unit.zone)?.through ?? [])
      : unit.detectors,
  );
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
