import type { Board } from '../../site/board.ts';
import type { Building } from './building.ts';
import { circuitOf, feedOf } from './circuit.ts';

/**
 * What the receiving side is shown of an input. `normal` and `short` come from inputs that supervise with a resistor.
 * `nothing`: no message, or one that says fault.
 */
export type Seen = 'open' | 'closed' | 'normal' | 'short' | 'nothing';

/** What a board tells the receiving side of one of its inputs, from the voltage it finds there. */
export function observe(building: Building, board: Board, inputId: string): Seen {
  const input = board.inputs.find(({ id }) => id === inputId);
  const rail = building.rails.find(({ id }) => id === `${board.id}:inputs`);
  if (input === undefined || rail === undefined || feedOf(building, rail) === null) return 'nothing';
  if (building.harm.some((one) => one.kind === 'board-destroyed' && one.says.startsWith(board.id))) {
    return 'nothing';
  }
  const { solved } = circuitOf(building, 'dc');
  const at = `${board.id}:${input.terminal}`;
  const volts = solved.volts(at, `${board.id}:negative`);
  const reference = solved.volts(`${board.id}:reference`, `${board.id}:negative`);
  if (board.supervision === null) {
    if (volts < board.sensing.closedBelowVolts) return 'closed';
    return volts > board.sensing.openAboveVolts ? 'open' : 'nothing';
  }
  const ohms =
    volts >= reference ? Number.POSITIVE_INFINITY : (board.sensing.pullUpOhms * volts) / (reference - volts);
  return supervised(ohms, board.supervision);
}

/** A supervised input knows its resistor at rest; worked, it sees both, one, or none. */
function supervised(ohms: number, supervision: NonNullable<Board['supervision']>): Seen {
  const { style, resistorOhms, alarmResistorOhms, window } = supervision;
  const alarmOhms = alarmResistorOhms ?? resistorOhms;
  const near = (value: number) => Math.abs(ohms - value) <= value * window;
  if (near(resistorOhms)) return 'normal';
  if (style === 'two-resistor') {
    if (near(resistorOhms + alarmOhms)) return 'open';
    return near(1 / (1 / resistorOhms + 1 / alarmOhms)) ? 'short' : 'nothing';
  }
  return ohms < resistorOhms ? 'short' : 'open';
}
