import type { Board } from '../../site/board.ts';
import type { Sounder, Survey } from '../../site/survey.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import { rootCable } from '../supply/feeds.ts';
import type { Destinations } from './destination.ts';

/** Whether the board's output, by itself, can make this sounder sound when it should. */
type SounderFit = 'fits' | 'needs-relay' | 'unknown' | 'no-output';

/**
 * A sounder that sounds while it has supply needs an output that applies it; one that listens to a trigger
 * needs the very sense it listens to. Everything else goes over a relay with a changeover contact.
 */
export function sounderFit(sounder: Sounder, board: Board): SounderFit {
  if (board.sounder === null) return 'no-output';
  if (sounder.trigger === 'unknown') return 'unknown';
  const { sense } = board.sounder;
  if (sounder.trigger === 'supply') return sense.endsWith('-applied') ? 'fits' : 'needs-relay';
  return sounder.trigger === sense ? 'fits' : 'needs-relay';
}

/**
 * Sends a sounder's conductors to the board. One with a trigger of its own hangs on aux all the time and
 * takes the switched side of the output as its trigger; a plain one hangs on the output.
 */
export function connectSounder(
  survey: Survey,
  sounder: Sounder,
  board: Board,
  conductors: readonly WiredConductor[],
  to: Destinations,
): void {
  if (board.sounder === null) return;
  // One that hangs on another's cable has its ends at the panel in the cable that comes first.
  const root = rootCable(survey, sounder.cable);
  const mine = conductors.filter(
    (conductor) => conductor.cable === root && conductor.atPanel && isFor(conductor, sounder),
  );
  const output = board.sounder;
  const terminal = (name: string) => ({ board: board.id, terminal: name });
  const switched = output.sense.startsWith('positive') ? output.positive : output.negative;
  const heldUp = mine.some(({ use }) => use === 'hold-off');
  for (const conductor of mine) {
    switch (conductor.use) {
      case 'sounder-positive':
      case 'strobe':
        to.send([conductor], terminal(output.positive));
        break;
      case 'sounder-negative':
        to.send([conductor], terminal(heldUp ? board.aux.negative : output.negative));
        break;
      case 'hold-off':
        to.send([conductor], terminal(board.aux.positive));
        break;
      case 'trigger':
        to.send([conductor], terminal(switched));
        break;
      default:
        break;
    }
  }
}

function isFor(conductor: WiredConductor, sounder: Sounder): boolean {
  return conductor.for === null || conductor.for === sounder.id;
}
