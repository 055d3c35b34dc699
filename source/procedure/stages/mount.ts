import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';
import { PANEL_STEP } from './clear.ts';

/** Stage 11: the board in its place, insulated, with nothing on it yet. */
export function mountSteps(facts: Facts): Step[] {
  return facts.plan.boards.map((board) => mount(facts, board));
}

export const mountStep = (board: string) => `mount.${board}`;

function mount(facts: Facts, board: Board): Step {
  const { enclosure } = facts.plan.survey.panel;
  const radio = board.network !== 'wired' && facts.plan.survey.network.kind !== 'wired';
  return card('mount', {
    id: mountStep(board.id),
    title: `Mount ${board.id}${enclosure === 'metal' ? ' on stand-offs, clear of the metal' : ''}`,
    why: 'What is loose under a board is found now, with no wire on it.',
    cautions: cautions('static', 'metal-box', 'asbestos', 'hidden-cables'),
    needs: 'any',
    hard: false,
    waitsFor: [PANEL_STEP],
    about: [board.id],
    proof: [
      choice('insulation', 'Under the board', [
        ['insulated', 'Stand-offs or a sheet, nothing touches', 'pass'],
        ['not-needed', 'The ground is no metal', 'pass'],
        [
          'touches',
          'Something touches',
          'fail',
          'Put stand-offs or a sheet under it. No wire goes on a board that can short.',
        ],
      ]),
      choice('swarf', 'Swarf, screws and strands', [
        ['none', 'None, looked at with a lamp', 'pass'],
        [
          'some',
          'Cannot be got out',
          'fail',
          'Take the board off again and clean the box first. A strand under a board is a short.',
        ],
      ]),
      ...when(
        radio,
        choice('antenna', 'Antenna', [
          ['outside', 'Outside the metal', 'pass'],
          ['no-metal', 'No metal around it', 'pass'],
          CANNOT,
        ]),
      ),
    ],
  });
}
