import { type ContactStates, type Expression, evaluateLoop } from '../../electrical/loop.ts';
import { contactsOf } from '../loops/contacts.ts';
import { expectedOf, type InputState } from '../loops/windows.ts';
import type { MeasuringPoint, OhmsWindow } from '../plan.ts';

/** A measuring point before its suspects. */
export type BarePoint = Omit<MeasuringPoint, 'suspects'>;

/** A loop between two leads, before it is asked in which states it is read. */
export type Reading = {
  readonly name: string;
  readonly phase: MeasuringPoint['phase'];
  readonly zone: string;
  readonly between: readonly [string, string];
  readonly expression: Expression;
  /** Contacts that the reading is about: what lies beside a shared return is in the loop, and is not worked for it. */
  readonly own: ReadonlySet<string>;
  readonly usable: ((state: InputState, states: ContactStates) => OhmsWindow['usable']) | null;
  readonly circuit: MeasuringPoint['circuit'];
  /** Least resistance of the board's own input, which lies beside what is landed on it. */
  readonly besideOhms?: number;
};

/**
 * At rest, and with each contact that needs no supply worked. All of this is read while dead, so powered
 * detectors stand as they do without supply and prove nothing; where one of them holds the loop open, working
 * another changes nothing that a meter could see.
 */
export function statesOf(reading: Reading): BarePoint[] {
  const contacts = contactsOf(reading.expression);
  const dead: ContactStates = Object.fromEntries(
    contacts
      .filter(({ unpowered }) => unpowered !== null)
      .map(({ detector }) => [detector, 'unpowered' as const]),
  );
  const atRest = evaluateLoop(reading.expression, dead);
  const worked = contacts.filter(
    ({ detector, unpowered, sense }) =>
      unpowered === null && sense !== 'unknown' && reading.own.has(detector),
  );
  const isBlind = Object.keys(dead).length > 0 && atRest.max === Number.POSITIVE_INFINITY;
  return [
    pointAt(reading, 'rest', dead),
    ...(isBlind ? [] : worked).map(({ detector }) =>
      pointAt(reading, `active.${detector}`, { ...dead, [detector]: 'active' }),
    ),
  ];
}

function pointAt(reading: Reading, state: string, states: ContactStates): BarePoint {
  const { name, phase, zone, between, expression, own, usable, circuit, besideOhms } = reading;
  const truth = evaluateLoop(expression, states);
  const judgesContact = !Object.entries(states).some(([id, one]) => one === 'unpowered' && own.has(id));
  // On its new screws an open loop reads the board's own input beside it: nothing to judge with a meter.
  const isBoards = phase === 'landed' && truth.max === Number.POSITIVE_INFINITY;
  const inputState = truth.min === Number.POSITIVE_INFINITY ? 'open' : conducting(expression, states);
  return {
    id: `${name}.${state}`,
    phase,
    zone,
    circuit,
    between,
    with: states,
    judgesContact,
    expression,
    window: isBoards
      ? { expected: null, usable: null }
      : loweredBy(
          besideOhms,
          windowOf(expectedOf(truth), judgesContact && usable ? usable(inputState, states) : null),
        ),
  };
}

/** Where nobody can say whether the loop stands open or closed there is nothing to judge: the reading tells. */
function windowOf(expected: OhmsWindow['expected'], usable: OhmsWindow['usable']): OhmsWindow {
  return { expected, usable: expected === null ? null : usable };
}

/** The board's input beside a loop lets it read less, never more. */
function loweredBy(besideOhms: number | undefined, { expected, usable }: OhmsWindow): OhmsWindow {
  if (besideOhms === undefined || expected === null || expected === 'open') return { expected, usable };
  const beside = (ohms: number) => (ohms * besideOhms) / (ohms + besideOhms);
  return {
    expected: { ...expected, min: beside(expected.min) },
    usable: usable && { ...usable, min: beside(usable.min) },
  };
}

/** A loop with its end resistor in reads normal, and worked as its contacts make it; one without reads closed. */
function conducting(expression: Expression, states: ContactStates): InputState {
  if (!hasResistor(expression)) return 'closed';
  const worked = contactsOf(expression).find(({ detector }) => states[detector] === 'active');
  if (worked === undefined) return 'normal';
  return worked.sense === 'normally-open' ? 'alarm-across' : 'alarm-in-row';
}

function hasResistor(expression: Expression): boolean {
  if (expression.kind === 'resistor') return true;
  return (expression.kind === 'series' || expression.kind === 'parallel') && expression.of.some(hasResistor);
}
