import type { Group } from '../../source/plan/grouping/group.ts';
import type { BoardRoom, Ties } from '../../source/plan/grouping/place.ts';
import type { Board } from '../../source/site/board.ts';
import { numbers } from './grouping-drawn.ts';
import { quietBoard } from './quiet-site.ts';

export type DrawnPlacement = {
  readonly boards: readonly Board[];
  readonly rooms: readonly BoardRoom[];
  readonly groups: readonly Group[];
  readonly tiesOf: (group: Group) => Ties;
};

/**
 * Boards of two to eight inputs, commons of one to all of them, and groups that nearly fill both the inputs and
 * the current, so that what fits and what does not come about equally often.
 */
export function drawPlacement(seed: number, most: { boards: number }): DrawnPlacement {
  const next = numbers(seed);
  const upTo = (count: number) => Math.floor(next() * count);
  const alike = next() < 0.5;
  const inputsAlike = 2 + upTo(7);
  const ampsAlike = (6 + upTo(30)) / 20;
  const perAlike = 1 + upTo(4);
  const boards = Array.from({ length: 1 + upTo(most.boards) }, (_, at): Board => {
    const quiet = quietBoard(`b${at + 1}`);
    const per = alike ? perAlike : 1 + upTo(4);
    const inputs = Array.from({ length: alike ? inputsAlike : 2 + upTo(7) }, (_input, one) => ({
      id: String(one + 1),
      terminal: `I${one + 1}`,
      common: `C${Math.floor(one / per) + 1}`,
    }));
    return { ...quiet, inputs, aux: { ...quiet.aux, amps: alike ? ampsAlike : (6 + upTo(30)) / 20 } };
  });
  const inputs = boards.flatMap((board) => board.inputs.map((input) => `${board.id}/${input.id}`));
  const count = Math.max(1, Math.round(inputs.length * (0.6 + 0.42 * next())));
  const amps = boards.reduce((sum, board) => sum + board.aux.amps, 0);
  const share = (amps * (0.75 + 0.3 * next())) / count;
  const returns = next() < 0.6 ? Math.max(1, Math.round(count / (4 + upTo(5)))) : 0;
  const ties = new Map<Group, Ties>();
  const groups = Array.from({ length: count }, (_, at): Group => {
    // Multiples of 10 mA, as data sheets give them; a third draws nothing.
    const auxAmps = next() < 0.33 ? 0 : Math.round(share * 1.5 * (0.4 + 1.2 * next()) * 100) / 100;
    const mine = returns > 0 && next() < 0.5 ? [`c${1 + upTo(returns)}/3`] : [];
    const asked = next() < 0.04 ? inputs[upTo(inputs.length)]! : null;
    const group: Group = {
      units: [
        {
          detectors: [`d${at}`],
          zone: `z${at}`,
          purpose: 'detection',
          size: 1,
          importance: 1,
          places: 1,
          company: 'normally-closed:intruder',
          returns: mine,
          asked,
          position: 0,
        },
      ],
    };
    ties.set(group, { returns: mine, feeds: [], auxAmps, supplyAmps: auxAmps, doubtfulAmps: 0 });
    return group;
  });
  const rooms = boards.map(({ aux }) => ({ auxAmps: aux.amps, supplyAmps: Number.POSITIVE_INFINITY }));
  return { boards, rooms, groups, tiesOf: (group) => ties.get(group)! };
}
