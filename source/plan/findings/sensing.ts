import type { Bounds, Interval } from '../../electrical/interval.ts';
import { isOver, isUnder } from '../../electrical/limit.ts';
import { type ContactStates, type Expression, evaluateLoop } from '../../electrical/loop.ts';
import { overlappingAlarm, supervisionWindows } from '../../electrical/supervision.ts';
import { spanWords } from '../../electrical/window-words.ts';
import type { Board } from '../../site/board.ts';
import { riseOf } from '../circuits/return-rise.ts';
import { type Contact, closedStates, closedWays, contactsOf } from '../loops/contacts.ts';
import { type InputState, usableOn } from '../loops/windows.ts';
import type { Circuit, Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { listed, volts } from './words.ts';

/** Will each input tell the states of its loop apart. */
export function sensingFindings({ boards, circuits }: Facts): Finding[] {
  return boards.flatMap((board) => {
    const mine = circuits.filter((circuit) => circuit.board === board.id);
    return [
      ...mine.flatMap((circuit) => ambiguous(board, circuit)),
      ...overlapping(board, mine),
      ...watchesNothing(board, mine),
    ];
  });
}

/** One state of a loop: what it may have then, and what the input must find for it. */
type State = {
  readonly when: string;
  readonly truth: Interval;
  readonly usable: Bounds;
  readonly riseVolts: number;
};

/** In every state of its loop the input must surely read what it is to read. The first that it does not is told. */
function ambiguous(board: Board, circuit: Circuit): Finding[] {
  const states =
    board.supervision === null ? unsupervisedStates(board, circuit) : supervisedStates(board, circuit);
  const worst = states.find(
    ({ truth, usable }) => isUnder(truth.min, usable.min) || isOver(truth.max, usable.max),
  );
  if (!worst) return [];
  const { when, truth, usable } = worst;
  const detectors = listed(circuit.detectors);
  const nobodyKnows = truth.max === Number.POSITIVE_INFINITY && truth.min < truth.max;
  const { riseVolts: rise } = worst;
  const lifted = rise > 0 ? `, with ${volts(rise)} on the return that it shares` : '';
  return [
    finding(
      'input-ambiguous',
      'caution',
      [`${circuit.board}/${circuit.input}`, ...circuit.detectors],
      nobodyKnows
        ? `Nobody can say how the loop of ${detectors} stands at rest, so not what input ${circuit.input} will show.`
        : `The loop of ${detectors} reads ${spanWords(truth.min, truth.max, 'ohms')}${when}, and input ${circuit.input} of ${circuit.board} is sure only from ${spanWords(usable.min, usable.max, 'ohms')}${lifted}.`,
      rise > 0 && !nobodyKnows
        ? 'Give the loop a return of its own, or a thicker one; the input closest to its limit flutters first.'
        : 'Read the loop before it is landed; what it shows settles it.',
      {
        ...(nobodyKnows ? {} : { minOhms: truth.min, maxOhms: truth.max }),
        usableMinOhms: usable.min,
        usableMaxOhms: usable.max,
        ...(rise > 0 ? { riseVolts: rise } : {}),
      },
    ),
  ];
}

/** Closed is what an input without supervision has to be sure of: open is a break. What closes in alarm does by one contact. */
function unsupervisedStates(board: Board, circuit: Circuit): State[] {
  return closedWays(ownContacts(circuit), circuit.contact)
    .map((states): State => {
      const riseVolts = riseOf(circuit, states);
      const usable = usableOn(board, 'closed', riseVolts);
      return { when: '', truth: evaluateLoop(circuit.expression, states), usable, riseVolts };
    })
    .sort((a, b) => b.truth.max / b.usable.max - a.truth.max / a.usable.max);
}

/** Beside a return that is shared lie the contacts of others. */
function ownContacts({ expression, active }: Circuit): Contact[] {
  return contactsOf(expression).filter(({ detector }) => detector in active);
}

/** At rest, worked by each contact and by all at once, and with the pair shorted at its far end. */
function supervisedStates(board: Board, circuit: Circuit): State[] {
  const { expression, contact, active, resistor } = circuit;
  const supervision = board.supervision!;
  const isOpenAtRest = contact === 'normally-open';
  const riseVolts = riseOf(circuit, {});
  const on = (state: InputState, states: ContactStates = {}) =>
    usableOn(board, state, riseOf(circuit, states));
  const at = (states: ContactStates) => evaluateLoop(expression, states);
  const normal = on('normal');
  const rest: State = { when: '', truth: at({}), usable: normal, riseVolts };
  if (contact === 'unknown') return [rest];
  const isTwo = supervision.style === 'two-resistor';
  const notRest = isOpenAtRest
    ? { min: 0, max: normal.min }
    : { min: normal.max, max: Number.POSITIVE_INFINITY };
  const alarm = isTwo ? on(isOpenAtRest ? 'alarm-across' : 'alarm-in-row') : notRest;
  const ids = Object.keys(active);
  const all = at(Object.fromEntries(ids.map((id) => [id, 'active' as const])));
  const short = evaluateLoop(withoutResistors(expression), closedStates(ownContacts(circuit)));
  // Below this a short is neither at rest nor, where contacts close in alarm, an alarm.
  const shortBelow = isTwo && isOpenAtRest ? alarm.min : normal.min;
  const isWatched = !sitsAtPanel(resistor);
  return [
    rest,
    ...ids.map((id) => ({
      when: ` with ${id} worked`,
      truth: at({ [id]: 'active' }),
      usable: alarm,
      riseVolts,
    })),
    ...(ids.length > 1
      ? [{ when: ` with ${listed(ids)} worked at once`, truth: all, usable: notRest, riseVolts }]
      : []),
    ...(isWatched
      ? [
          {
            when: ' with its pair shorted at the far end',
            truth: short,
            usable: { min: 0, max: shortBelow },
            riseVolts,
          },
        ]
      : []),
  ];
}

/** What is left of a loop when its far end is shorted: its cable. */
function withoutResistors(expression: Expression): Expression {
  if (expression.kind === 'resistor') return { ...expression, ohms: 0 };
  if (expression.kind !== 'series' && expression.kind !== 'parallel') return expression;
  return { kind: expression.kind, of: expression.of.map(withoutResistors) };
}

/** A board whose window at rest and whose alarm window have a reading in common. */
function overlapping(board: Board, circuits: readonly Circuit[]): Finding[] {
  const { supervision } = board;
  if (supervision === null) return [];
  const { normal } = supervisionWindows(supervision);
  return (['normally-closed', 'normally-open'] as const).flatMap((sense) => {
    const about = circuits.filter(({ contact }) => contact === sense);
    const alarm = overlappingAlarm(supervision, sense);
    if (alarm === null || about.length === 0) return [];
    return [
      finding(
        'input-ambiguous',
        'caution',
        [board.id, ...about.map(({ input }) => `${board.id}/${input}`)],
        `At rest ${board.id} takes ${spanWords(normal.min, normal.max, 'ohms')}, and in alarm ${spanWords(alarm.min, alarm.max, 'ohms')}: a reading may be either.`,
        "Use the values of end and alarm resistor that the board's maker gives, or ones further apart.",
        {
          normalMinOhms: normal.min,
          normalMaxOhms: normal.max,
          alarmMinOhms: alarm.min,
          alarmMaxOhms: alarm.max,
        },
      ),
    ];
  });
}

/** A resistor at the board's own screws stands before the cable and so never watches it. */
function watchesNothing(board: Board, circuits: readonly Circuit[]): Finding[] {
  if (board.supervision === null) return [];
  const idle = circuits.filter(({ resistor }) => sitsAtPanel(resistor));
  if (idle.length === 0) return [];
  const inputs = idle.map(({ input }) => input);
  const faults = [
    ...(idle.some(({ contact }) => contact !== 'normally-open') ? ['a shorted pair'] : []),
    ...(idle.some(({ contact }) => contact !== 'normally-closed') ? ['a cut pair'] : []),
  ];
  const whole = idle.length === circuits.length;
  return [
    finding(
      'resistor-at-panel',
      'caution',
      [board.id, ...inputs.map((input) => `${board.id}/${input}`)],
      `The end resistor${idle.length > 1 ? 's' : ''} of input${idle.length > 1 ? 's' : ''} ${listed(inputs)} of ${board.id} ${idle.length > 1 ? 'sit' : 'sits'} at its own screws, before the cable: ${faults.join(' or ')} reads as at rest${whole ? ', and the board supervises nothing' : ''}.`,
      'Fit each at the last detector of its loop, which takes a ladder, and say so in the survey; else tell the owner that the cable is not watched.',
      { inputs: idle.length },
    ),
  ];
}

/** Whether the end resistor of an input stands at the panel once the work is done. */
function sitsAtPanel({ work, at }: Circuit['resistor']): boolean {
  return (work === 'fit' || work === 'keep' || work === 'replace') && at === 'panel';
}
