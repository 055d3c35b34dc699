import { type ContactStates, evaluateLoop } from '../../electrical/loop.ts';
import { inputReads } from '../../electrical/sensing.ts';
import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import { resistorOf } from '../../wiring/elements.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { CircuitEnds } from '../connections/circuit-ends.ts';
import { closedWays, contactsOf, openWays } from '../loops/contacts.ts';
import { contactsOfZones, type Field } from '../loops/field.ts';
import { expectedOf, type InputState, marginOn, usableOn } from '../loops/windows.ts';
import type { Circuit, OhmsWindow } from '../plan.ts';
import { loopOf } from './circuit-resistors.ts';
import { computeReturnRises, riseOf } from './return-rise.ts';
import { circuitLoop, type SettledCircuit } from './settle.ts';

/**
 * What each new input must read, in every state of its contacts.
 *
 * @param landed the wiring once all work is done
 * @param left the wiring landed with the resistors out at the detectors still in
 */
export function computeCircuits(
  survey: Survey,
  field: Field,
  circuits: readonly SettledCircuit[],
  ends: readonly CircuitEnds[],
  landed: Wiring,
  left: Wiring,
): Circuit[] {
  return circuits.map((circuit, index) => computeCircuit(survey, field, circuit, ends[index]!, landed, left));
}

function computeCircuit(
  survey: Survey,
  field: Field,
  settled: SettledCircuit,
  ends: CircuitEnds,
  landed: Wiring,
  left: Wiring,
): Circuit {
  const { board } = ends.placed;
  const expression = circuitLoop(landed, ends);
  const own = contactsOfZones(field, Object.keys(settled.resistors));
  const contacts = contactsOf(expression).filter(({ detector }) => own.has(detector));
  const returnRiseVolts = computeReturnRises(landed, board, settled, expression, contacts);
  const states = inputStates(board, settled.contact === 'normally-open');
  // A contact of unknown sense may stand either way: its first reading tells, and nothing is judged.
  const windowAt = (standing: ContactStates, state: InputState): OhmsWindow => {
    const expected = expectedOf(evaluateLoop(expression, standing));
    return {
      expected,
      usable: expected === null ? null : usableOn(board, state, riseOf({ returnRiseVolts }, standing)),
    };
  };
  const needsSupply = contacts.filter(({ unpowered }) => unpowered !== null).map(({ detector }) => detector);
  const unpowered = Object.fromEntries(needsSupply.map((id) => [id, 'unpowered' as const]));
  const worth = (ways: readonly ContactStates[]) =>
    ways.map((states) => ({
      ...evaluateLoop(expression, states),
      riseVolts: riseOf({ returnRiseVolts }, states),
    }));
  return {
    ...settled,
    expression,
    rest: windowAt({}, states.rest),
    active: Object.fromEntries(
      contacts.map(({ detector }) => [detector, windowAt({ [detector]: 'active' }, states.active)]),
    ),
    unpowered:
      needsSupply.length === 0
        ? null
        : { expected: expectedOf(evaluateLoop(expression, unpowered)), usable: null },
    margin: marginOn(
      board,
      worth(closedWays(contacts, settled.contact)),
      worth(openWays(contacts, settled.contact)),
    ),
    returnRiseVolts,
    ifResistorLeft: leftInPlace(survey, settled, ends, left),
  };
}

/** What the input is to make of its loop, at rest and worked. */
function inputStates(board: Board, isOpenAtRest: boolean): { rest: InputState; active: InputState } {
  const worked: InputState = isOpenAtRest ? 'closed' : 'open';
  if (board.supervision === null) return { rest: isOpenAtRest ? 'open' : 'closed', active: worked };
  const withBoth: InputState = isOpenAtRest ? 'alarm-across' : 'alarm-in-row';
  return { rest: 'normal', active: board.supervision.style === 'two-resistor' ? withBoth : worked };
}

/** What the input would make of the loop at rest if the resistor that is to go stayed, at the panel or where it is. */
function leftInPlace(
  survey: Survey,
  { fromZone, resistor: { work, ohms, at } }: SettledCircuit,
  ends: CircuitEnds,
  left: Wiring,
): Circuit['ifResistorLeft'] {
  if ((work !== 'remove' && work !== 'replace') || ohms === null) return null;
  const { board } = ends.placed;
  const field = circuitLoop(left, ends);
  const isAtPanel = loopOf(survey, fromZone).resistorOhms !== null && (at === 'panel' || at === 'unknown');
  const whole = isAtPanel ? { kind: ends.join, of: [field, resistorOf(ohms)] } : field;
  return inputReads(evaluateLoop(whole, {}).nominal, board.sensing);
}
