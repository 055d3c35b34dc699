import { volts } from '../../plan/findings/words.ts';
import { auxColdReadings } from '../../plan/points/aux-cold.ts';
import { newBatteryReading } from '../../plan/supply/readings.ts';
import { leastOhms } from '../../plan/text/words.ts';
import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, count, reading, seen, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Step } from '../step.ts';
import { deadSweeps } from '../voltage.ts';
import { adapter, coldOhms, interim } from './energise.ts';
import { followUps, supplyAt } from './follow-up.ts';
import { otherSuppliesOn, servingSupplies, supplyOnStep } from './other-supplies.ts';
import { adapterStep } from './prepare.ts';
import { rewiredCables, rewireStep } from './rewire.ts';

/** Stage 13: looked over and measured cold; then adapter, farthest detector, battery, every circuit at rest. */
export function powerUpSteps(facts: Facts): Step[] {
  const { boards } = facts.plan;
  const rewires = rewiredCables(facts).map(rewireStep);
  const cold = [
    ...boards.map((board) => auxCold(facts, board, rewires)),
    voltage(facts, rewires),
    look(facts, rewires),
  ];
  return [
    ...cold,
    adapter(facts, [...rewires, ...cold.map((step) => step.id)]),
    interim(facts),
    ...otherSuppliesOn(facts),
    ...boards.flatMap((board) => [...farthest(facts, board), ...battery(board), rest(facts, board)]),
  ];
}

const circuitsOf = (facts: Facts, board: Board) => facts.circuits.filter((one) => one.board === board.id);
const poweredOn = (facts: Facts, board: Board) =>
  facts.plan.supply.find((one) => one.board === board.id)?.devices ?? [];

/** Aux must carry its loads and no short; a loop wire must not touch it: a damaged four-core does that. */
function auxCold(facts: Facts, board: Board, waitsFor: readonly string[]): Step {
  const { across, beside } = auxColdReadings(facts.plan, board);
  return card('power-up', {
    id: `cold.aux.${board.id}`,
    title: `Read ohms across aux of ${board.id}, and from its positive to each loop beside a supply pair`,
    why: `Below ${leastOhms(across.leastOhms)} the output is overloaded or shorted. A damaged cable puts aux on an input.`,
    cautions: cautions('energise-check'),
    needs: 'dead',
    waitsFor,
    about: [board.id],
    proof: [
      coldOhms('aux', across.between.join(' to '), across.between, across.leastOhms),
      ...beside.map(({ input, between, leastOhms }) =>
        coldOhms(`input-${input}`, between.join(' to '), between, leastOhms),
      ),
    ],
  });
}

function voltage(facts: Facts, waitsFor: readonly string[]): Step {
  const points = facts.plan.terminals.map((one) => `${one.board}:${one.terminal}`);
  const { dc, ac } = deadSweeps(points.length > 0 ? points : ['earth'], 'board negative and against earth');
  return card('power-up', {
    id: 'cold.voltage',
    title: 'Look for foreign voltage on every terminal that has a wire',
    why: 'A voltage that comes in over the field wiring destroys an input, or you.',
    cautions: cautions('induced-voltage', 'several-sources'),
    needs: 'dead',
    waitsFor,
    about: facts.plan.boards.map((board) => board.id),
    proof: [...dc, ...ac],
  });
}

function look(facts: Facts, waitsFor: readonly string[]): Step {
  const powered = facts.plan.boards.flatMap((board) => poweredOn(facts, board));
  return card('power-up', {
    id: 'cold.look',
    title: 'Look over the work: polarity, strands, straps, tools',
    why: 'It is the last look before power.',
    cautions: cautions('energise-check'),
    needs: 'dead',
    waitsFor,
    about: powered.map((device) => device.id),
    proof: [
      ...powered.map((device) =>
        choice(`polarity-${device.id}`, `Supply wires of ${facts.detector(device.id)?.name ?? device.id}`, [
          ['right', 'Positive goes to positive, by label', 'pass'],
          [
            'swapped',
            'Swapped',
            'fail',
            'No power. Swap them at one end only, by their labels, and look again.',
          ],
          CANNOT,
        ]),
      ),
      choice('loose', 'Strands and wires', [
        ['none', 'None loose, each tugged', 'pass'],
        [
          'some',
          'Something is loose',
          'fail',
          'No power. Fasten or insulate it, and tug at each wire again.',
        ],
      ]),
      choice('left', 'Straps, jumpers and tools', [
        ['none', 'None left in', 'pass'],
        [
          'some',
          'Something is still in',
          'fail',
          'No power. Take it out and look once more over everything.',
        ],
      ]),
      choice('people', 'People near the wiring and the detectors', [
        ['told', 'Told that power comes', 'pass'],
        ['nobody', 'Nobody is there', 'pass'],
        CANNOT,
      ]),
    ],
  });
}

function farthest(facts: Facts, board: Board): Step[] {
  const devices = poweredOn(facts, board);
  const [device] = [...devices].sort((a, b) => a.now.nominal - b.now.nominal);
  if (!device) return [];
  const [window] = supplyAt(facts, { board: board.id }, device.id);
  const name = facts.detector(device.id)?.name ?? device.id;
  const supplyCables = rewiredCables(facts).filter((cable) =>
    facts.conductors.some(
      (one) => one.cable === cable && (one.use === 'aux-positive' || one.use === 'aux-negative'),
    ),
  );
  return [
    card('power-up', {
      id: `power.devices.${board.id}`,
      title: `Read the supply at ${name}, the farthest of ${devices.length}`,
      why: `It needs ${volts(device.minimumVolts)} also at the end of the battery; today ${volts(device.now.nominal)} are computed.`,
      cautions: cautions('ladder'),
      needs: 'energised',
      hard: false,
      waitsFor: supplyCables.map(rewireStep),
      about: [board.id, device.id],
      proof: [
        reading({
          field: device.id,
          of: 'volts-dc',
          label: `At the terminals of ${name}`,
          ...window!,
          catches: [
            { fault: 'a joint or a core that takes more than was computed', gives: window!.min - 0.5 },
          ],
          danger: false,
          follows:
            'More is lost on the way than the plan reckons with: look for a loose joint, a thinner core or a longer way, and read aux at the board.',
        }),
      ],
    }),
  ];
}

function battery(board: Board): Step[] {
  const fitted = board.battery;
  if (!fitted) return [];
  const between = [`board-battery:${board.id}+`, `board-battery:${board.id}-`] as const;
  return [
    card('power-up', {
      id: `power.battery.${board.id}`,
      title: `Read the new battery of ${board.id}, then connect its fused lead, negative last`,
      why: 'Reversed, it destroys the charger. Without a fuse it burns the lead.',
      cautions: cautions('battery-short', 'ac-on-dc'),
      acts: [{ do: 'connect-source', source: `board-battery:${board.id}`, board: board.id }],
      needs: 'energised',
      waitsFor: [adapterStep(board)],
      about: [board.id],
      proof: [
        reading({
          field: 'volts',
          of: 'volts-dc',
          label: 'The battery by itself, red probe on its positive',
          between,
          ...newBatteryReading(fitted),
          danger: true,
          follows:
            'Connect nothing. So it reads with a dead cell, or after years on a shelf: fit another one, or charge it by itself first.',
        }),
        choice('fuse', 'Fuse in its lead', [
          ['fitted', 'Fitted', 'pass'],
          [
            'none',
            'None',
            'fail',
            'Connect nothing. A battery without a fuse burns its lead: fit one at the battery.',
          ],
        ]),
        choice('secured', 'The battery', [
          ['secured', 'Stands secured, its terminals covered', 'pass'],
          CANNOT,
        ]),
      ],
    }),
  ];
}

function rest(facts: Facts, board: Board): Step {
  const circuits = circuitsOf(facts, board);
  const warmUpMinutes = Math.ceil(
    Math.max(0, ...poweredOn(facts, board).map((device) => warmUpSeconds(facts, device.id))) / 60,
  );
  return card('power-up', {
    id: `power.rest.${board.id}`,
    title:
      warmUpMinutes > 0
        ? `After ${warmUpMinutes} minutes of warm-up, see every circuit of ${board.id} at rest`
        : `See every circuit of ${board.id} at rest`,
    why: 'A contact that is not where it should be shows before anybody walks.',
    needs: 'energised',
    hard: false,
    waitsFor: [...rewiredCables(facts).map(rewireStep), ...servingSupplies(facts).map(supplyOnStep)],
    about: [board.id],
    proof: [
      choice('network', 'The network, with the enclosure closed', [
        ['seen', `${board.id} is seen`, 'pass'],
        [
          'not-seen',
          'Not seen',
          'fail',
          'Look at the plug, the lamp at its socket and what the network hands out. With a metal lid, look with it open.',
        ],
      ]),
      ...circuits.flatMap((one) => {
        const looked = {
          field: `input-${one.input}`,
          expect: one.contact === 'normally-open' ? 'open' : 'closed',
        } as const;
        const at = { board: one.board, input: one.input, detector: one.detectors[0] ?? '' };
        return [
          seen(looked.field, `Input ${one.input}, ${listed([...one.detectors])}`, at, looked.expect),
          ...followUps(facts, one, one.detectors, looked),
        ];
      }),
      ...when(
        warmUpMinutes > 0,
        count('waited', 'Minutes waited since power', { offers: [`${warmUpMinutes}`] }),
      ),
    ],
  });
}

function warmUpSeconds(facts: Facts, id: string): number {
  const supply = facts.detector(id)?.supply;
  return supply && supply !== 'from-loop' ? supply.warmUpSeconds : 0;
}
