import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, reading, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { PANEL_STEP } from './clear-panel.ts';

/** Stage 11: the board in its place, insulated, with nothing on it yet. */
export function mountSteps(facts: Facts): Step[] {
  return facts.plan.boards.map((board) => mount(facts, board));
}

export const mountStep = (board: string) => `mount.${board}`;

function mount(facts: Facts, board: Board): Step {
  const { enclosure } = facts.plan.survey.panel;
  const radio = board.network !== 'wired' && facts.plan.survey.network.kind !== 'wired';
  const links = facts.plan.work.links.filter((link) => link.board === board.id);
  return card('mount', {
    id: mountStep(board.id),
    title: `Mount ${board.id}${enclosure === 'metal' ? ' on stand-offs, clear of the metal' : ''}`,
    why: 'What is loose under a board is found now, with no wire on it.',
    cautions: cautions('static', 'metal-box', 'asbestos', 'hidden-cables'),
    needs: 'any',
    hard: false,
    waitsFor: [PANEL_STEP],
    acts: [{ do: 'mount', board: board.id }, ...links],
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
      ...links.flatMap(({ terminals }) => linked(board.id, terminals)),
    ],
  });
}

/** A return that several loops share lies on one common, and the others hang on it by a wire that reads through. */
function linked(board: string, terminals: readonly string[]): Proof[] {
  const names = listed([...terminals]);
  return [
    choice(`link.${terminals.join('-')}`, `Link ${names} of ${board}, a wire from each to the next`, [
      ['linked', 'Linked, and held a tug', 'pass'],
      CANNOT,
    ]),
    reading({
      field: `through.${terminals.join('-')}`,
      of: 'ohms',
      label: `${terminals[0]} to ${terminals.at(-1)} of ${board}, nothing else on them`,
      between: [`${board}:${terminals[0]}`, `${board}:${terminals.at(-1)}`],
      min: 0,
      nominal: 0.1,
      max: 1,
      usable: { min: 0, max: 2 },
    }),
  ];
}
