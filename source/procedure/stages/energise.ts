import { auxColdReadings } from '../../plan/points/aux-cold.ts';
import { auxReading } from '../../plan/supply/readings.ts';
import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, count, NOT_SURE, reading } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { deadSweeps } from '../voltage.ts';
import { mountStep } from './mount.ts';
import { adapterStep } from './prepare.ts';

/** Ohms between two screws before power: less than `least` is a fault. */
export function coldOhms(
  field: string,
  label: string,
  between: readonly [string, string],
  least: number,
): Proof {
  return reading({
    field,
    of: 'ohms',
    label,
    between,
    min: least,
    usable: { min: least, max: null },
    open: 'may',
    danger: true,
  });
}

function auxVolts({ plan }: Facts, board: Board): Proof {
  return reading({
    field: `aux-${board.id}`,
    of: 'volts-dc',
    label: `Aux of ${board.id}, ${board.aux.positive} to ${board.aux.negative}`,
    between: [`${board.id}:${board.aux.positive}`, `${board.id}:${board.aux.negative}`],
    ...auxReading(plan, board),
    danger: true,
  });
}

const adapterActs = (facts: Facts) =>
  facts.plan.boards.map((board) => ({
    do: 'connect-source' as const,
    source: `adapter:${board.id}`,
    board: board.id,
  }));

/** What was read on the bench says nothing of another adapter. */
function sameAdapter(board: Board): Proof {
  return choice(`adapter-${board.id}`, `The adapter of ${board.id}, still unplugged`, [
    ['same', 'The one that was read by itself', 'pass'],
    [
      'another',
      'Another one',
      'fail',
      `Leave it unplugged. Do ${adapterStep(board)} again and read this one by itself: DC, volts and polarity.`,
    ],
    NOT_SURE,
  ]);
}

/** The adapters are plugged in: what was checked cold is energised. */
export function adapter(facts: Facts, waitsFor: readonly string[]): Step {
  const { boards } = facts.plan;
  return card('power-up', {
    id: 'power.adapter',
    title: `Plug in ${listed(boards.map((board) => `the adapter of ${board.id}`))}, and read aux`,
    why: 'Everything is checked cold. From here on the wiring is energised.',
    cautions: cautions('energise-check', 'ac-on-dc'),
    acts: adapterActs(facts),
    needs: 'dead',
    effect: 'energise',
    // A board that no wire of its own waits for gets power all the same: what touches there shuts it too.
    waitsFor: [...boards.map(adapterStep), ...boards.map((board) => mountStep(board.id)), ...waitsFor],
    about: boards.map((board) => board.id),
    proof: [
      ...boards.map((board) => ({ ...sameAdapter(board), after: 0 })),
      ...boards.map((board) => auxVolts(facts, board)),
      choice('signs', 'Smell, heat, noise', [
        ['none', 'None', 'pass'],
        [
          'some',
          'Something: unplugged again',
          'fail',
          'Leave it unplugged. Prove dead, and look at polarity, aux and the board before it is tried again.',
        ],
      ]),
    ],
  });
}

/** Circuits that are finished may be served for a night; whatever is not finished hangs insulated, and is listed. */
export function interim(facts: Facts): Step {
  const { boards } = facts.plan;
  const points = facts.plan.terminals.map((one) => `${one.board}:${one.terminal}`);
  const { dc } = deadSweeps(points.length > 0 ? points : ['earth'], 'board negative and against earth');
  return card('power-up', {
    id: 'power.interim',
    title: 'For a night only: power the circuits that are finished',
    why: 'Half of the openings protected is better than none, if every other wire is insulated.',
    cautions: cautions('energise-check', 'test-under-power', 'unprotected'),
    acts: adapterActs(facts),
    needs: 'dead',
    effect: 'energise',
    repeatable: true,
    waitsFor: [...boards.map(adapterStep), ...boards.map((board) => mountStep(board.id))],
    about: boards.map((board) => board.id),
    proof: [
      ...[
        count('served', 'Circuits that are landed, read and served: how many'),
        count('insulated', 'Wires that are not landed, each end insulated: how many'),
        choice('list', 'Those wires', [
          ['listed', 'Insulated and listed on the board’s tag', 'pass'],
          CANNOT,
        ]),
        ...dc,
        ...boards.map((board) =>
          coldOhms(
            `cold-${board.id}`,
            `Before: ${auxColdReadings(facts.plan, board).across.between.join(' to ')}`,
            auxColdReadings(facts.plan, board).across.between,
            auxColdReadings(facts.plan, board).across.leastOhms,
          ),
        ),
      ].map((proof) => ({ ...proof, after: 0 })),
      ...boards.map((board) => auxVolts(facts, board)),
    ],
  });
}
