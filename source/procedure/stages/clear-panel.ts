import type { Act } from '../../wiring/act.ts';
import { CANNOT, card, choice, leaving } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Proof, Step } from '../step.ts';

/** The step after which the old panel is gone, or stays for good, and the new board may be mounted. */
export const PANEL_STEP = 'clear.panel';

/** The old board out, or left and marked where life safety, mains or another reason keeps it. */
export function panelStep(facts: Facts, before: readonly Step[], heads: readonly Proof[]): Step {
  const held = facts.held.conductors.size > 0;
  const acts: Act[] =
    held || facts.mainsFed ? [] : [...facts.plan.work.leftOnPanel, { do: 'remove', what: 'panel' }];
  return card('clear', {
    id: PANEL_STEP,
    title: held
      ? 'Leave the old board where its life-safety wires are, and mark it'
      : facts.mainsFed
        ? 'Leave the old board to the electrician, and mark it'
        : 'Take the old board out, unless mains was found behind it',
    why: held
      ? 'Those wires are not moved by this work. Whoever comes next must see why the board is still there.'
      : 'The new board needs its place, and nobody shall connect the old feed to it.',
    cautions: cautions(
      ...(held ? (['life-safety'] as const) : facts.mainsFed ? [] : (['mains-inside'] as const)),
      'bonding',
      'static',
    ),
    acts,
    needs: 'dead',
    // What would be relied on in vain is marked before anybody goes on; a board that stays for a reason may say so.
    hard: heads.length > 0,
    waitsFor: before.map((step) => step.id),
    about: ['panel'],
    proof: [
      leaving(
        choice('board', 'The old board', [
          ...(held || facts.mainsFed
            ? ([['marked', 'Stays, marked out of service', 'pass']] as const)
            : ([
                ['out', 'Out, its screws and lid kept', 'pass'],
                ['electrician', 'Left to the electrician and marked: mains was found inside', 'pass'],
              ] as const)),
          ['stays', 'Stays for another reason, marked', 'pass'],
          CANNOT,
        ]),
        { electrician: acts, stays: acts },
      ),
      ...heads,
      choice('bond', 'Protective conductor of the enclosure', [
        ['kept', 'There is one, and it is kept', 'pass'],
        ['none', 'There is none', 'pass'],
        [
          'came-off',
          'It came off',
          'fail',
          'Stop. A licensed electrician puts it back and tests it before anything else: an earthed enclosure keeps its protective conductor.',
        ],
      ]),
    ],
  });
}
