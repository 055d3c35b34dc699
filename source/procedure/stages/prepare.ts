import { ohms, volts } from '../../plan/findings/words.ts';
import { adapterReading } from '../../plan/supply/readings.ts';
import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, count, reading, seen } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';

/** Stage 3: nobody tears an old system apart for a board that does not work. */
export function prepareSteps(facts: Facts): Step[] {
  return facts.plan.boards.flatMap((board) => [adapter(facts, board), bench(board), inputs(facts, board)]);
}

export const adapterStep = (board: Board) => `prepare.adapter.${board.id}`;
export const inputsStep = (board: Board) => `prepare.inputs.${board.id}`;

function adapter({ plan }: Facts, board: Board): Step {
  const { fromVolts, toVolts } = board.supply.accepts;
  const between = [`adapter:${board.id}+`, `adapter:${board.id}-`] as const;
  return card('prepare', {
    id: adapterStep(board),
    title: `Read the adapter of ${board.id} by itself, red probe on its positive`,
    why: `The board takes ${volts(fromVolts)} to ${volts(toVolts)} DC. AC or reversed polarity destroys it.`,
    cautions: cautions('ac-on-dc'),
    about: [board.id, `adapter:${board.id}`],
    // On the bench nothing of the site is touched: a plan that changes in mid-work must not call for it again.
    waitsFor: ['survey.scope'],
    proof: [
      reading({
        field: 'dc',
        of: 'volts-dc',
        label: 'Adapter, DC',
        between,
        ...adapterReading(plan, board),
        danger: true,
      }),
      reading({
        field: 'ac',
        of: 'volts-ac',
        label: 'Adapter, AC',
        between,
        min: 0,
        nominal: 0,
        max: 0.5,
        usable: { min: 0, max: 0.5 },
        danger: true,
      }),
      choice('polarity', 'Polarity', [
        ['as-marked', 'Positive is where the marking says', 'pass'],
        [
          'reversed',
          'Reversed',
          'fail',
          'Connect it to nothing. Put it away, or have its polarity changed, and read it again.',
        ],
      ]),
    ],
  });
}

function bench(board: Board): Step {
  return card('prepare', {
    id: `prepare.bench.${board.id}`,
    title: `Power ${board.id} on the bench and join it to the network`,
    why: 'On the bench it has no field wiring, so nothing but the board can be at fault.',
    cautions: cautions('static'),
    acts: [{ do: 'connect-source', source: `adapter:${board.id}`, board: board.id }],
    hard: false,
    waitsFor: [adapterStep(board)],
    about: [board.id],
    proof: [
      choice('network', 'The network', [
        ['joined', 'Joined, and seen from the receiving side', 'pass'],
        [
          'not-seen',
          'Not seen',
          'fail',
          'Look at the plug and at what the network hands out. Nothing of the old system is touched for a board that does not work.',
        ],
        CANNOT,
      ]),
      choice('modules', 'Add-on modules and plugs', [
        ['seated', 'Seated the right way round', 'pass'],
        ['none', 'There are none', 'pass'],
        [
          'wrong',
          'Something sits wrongly',
          'fail',
          'Unplug the board, seat it the right way round, and start again.',
        ],
      ]),
    ],
  });
}

function inputs(facts: Facts, board: Board): Step {
  const circuits = facts.circuits.filter((one) => one.board === board.id);
  return card('prepare', {
    id: inputsStep(board),
    title: `Name the ${circuits.length} inputs of ${board.id} from the plan, put ${standIn(board)} across each in turn, then unplug it`,
    why: 'Each must be seen by its own name at the receiving side before it gets a wire, and it gets wires dead.',
    cautions: cautions('static'),
    acts: [{ do: 'isolate', source: `adapter:${board.id}` }],
    hard: false,
    waitsFor: [`prepare.bench.${board.id}`],
    about: [board.id],
    proof: [
      count('named', 'Inputs named: how many', { survey: circuits.length }),
      ...circuits.map((one) =>
        seen(
          `input-${one.input}`,
          `${one.terminal} to ${one.common}: what the receiving side shows`,
          { board: one.board, input: one.input, detector: one.detectors[0] ?? '' },
          'closed',
        ),
      ),
    ].map((proof) => ({ ...proof, after: 0 })),
  });
}

/** An input that supervises takes a jumper for a short: its own resistor stands in for the loop. */
function standIn({ supervision }: Board): string {
  return supervision === null ? 'a jumper' : `a resistor of ${ohms(supervision.resistorOhms)}`;
}
