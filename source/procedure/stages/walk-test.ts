import { hours } from '../../plan/findings/words.ts';
import type { Circuit } from '../../plan/plan.ts';
import { onBatteryReading } from '../../plan/supply/readings.ts';
import type { Board } from '../../site/board.ts';
import { CANNOT, card, choice, count, reading, seen, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { followUps } from './follow-up.ts';
import { cablesOf, rewiredCables, rewireStep } from './rewire.ts';
import { restoreSounder } from './sounder.ts';

/**
 * Stage 14: every detector by itself, worked, seen, restored. Each rests on the wiring of its own circuit and
 * on power, so that mending one circuit voids the passes of that circuit alone.
 */
export function walkTestSteps(facts: Facts): Step[] {
  return [
    ...facts.circuits.flatMap((circuit) => circuitTests(facts, circuit)),
    ...sounderTests(facts),
    ...facts.plan.boards.map((board) => mainsFailure(facts, board)),
  ];
}

const stateOf = (circuit: Circuit) => (circuit.contact === 'normally-open' ? 'open' : 'closed');
const HOW: Readonly<Record<string, string>> = {
  movement: 'walk four steps across its field',
  'glass-break': 'with its simulator',
  flood: 'lift its float',
  panic: 'press it',
};

function circuitTests(facts: Facts, circuit: Circuit): Step[] {
  const tested = circuit.purpose === 'tamper' ? [circuit.fromZone] : circuit.detectors;
  const resting = stateOf(circuit);
  const working = resting === 'open' ? 'closed' : 'open';
  return tested.map((id) => {
    const detector = facts.detector(id);
    const name = circuit.purpose === 'tamper' ? `tamper loop ${id}` : (detector?.name ?? id);
    const at = { board: circuit.board, input: circuit.input, detector: id };
    const how = HOW[detector?.kind ?? ''];
    return card('walk-test', {
      id: `walk.${id}`,
      title: `Work ${name} by itself and restore it${how ? `: ${how}` : ''}`,
      why: `It must report as input ${circuit.input} of ${circuit.board}, and nothing else with it.`,
      cautions: cautions('no-adjusting'),
      needs: 'energised',
      hard: false,
      waitsFor: cablesOf(facts, circuit).map(rewireStep),
      about: [id, circuit.fromZone, `${circuit.board}/${circuit.input}`],
      proof: [
        seen('worked', `${name} worked: what the receiving side shows`, at, working),
        ...followUps(facts, circuit, [id], { field: 'worked', expect: working }, { [id]: 'active' }),
        seen('restored', `${name} restored: what the receiving side shows`, at, resting),
      ],
    });
  });
}

function sounderTests(facts: Facts): Step[] {
  return facts.plan.survey.sounders.flatMap((sounder) => [
    ...restoreSounder(facts, sounder),
    card('walk-test', {
      id: `walk.sounder.${sounder.id}`,
      title: `Sound ${sounder.name} for five seconds at most, nobody on a ladder, ears covered`,
      why: 'It must sound when it is told to, and stop.',
      cautions: cautions('sounder-loud', 'sounding-time', 'ladder'),
      needs: 'energised',
      hard: false,
      waitsFor: rewiredCables(facts)
        .filter((cable) => cable === sounder.cable)
        .map(rewireStep),
      about: [sounder.id],
      proof: [
        choice('sound', 'What it did', [
          ['sounded', 'Sounded and stopped', 'pass'],
          [
            'silent',
            'Did not sound',
            'fail',
            'Read its line while it is triggered; look at its trigger, its polarity and what it draws.',
          ],
          [
            'would-not-stop',
            'Did not stop',
            'fail',
            'Stop it at its box, ears covered. Then look at the sense of its trigger.',
          ],
        ]),
        count('seconds', 'Seconds it sounded', { offers: ['5'] }),
      ],
    }),
  ]);
}

function mainsFailure(facts: Facts, board: Board): Step {
  const adapter = `adapter:${board.id}`;
  const supply = facts.plan.supply.find((one) => one.board === board.id);
  const lasts = supply?.battery ? ` for ${hours(supply.battery.holdUpHours)} by the plan` : '';
  return card('walk-test', {
    id: `walk.mains-failure.${board.id}`,
    title: `Pull the adapter of ${board.id} and the network’s plug, wait, and put them back`,
    why: board.battery
      ? `The battery must carry it without a false event${lasts === '' ? '' : `,${lasts}`}.`
      : 'It has no battery: what happens when mains fails is to be known, and when mains comes back.',
    cautions: cautions('test-under-power'),
    acts: [
      { do: 'isolate', source: adapter },
      { do: 'connect-source', source: adapter, board: board.id },
    ],
    needs: 'energised',
    hard: false,
    waitsFor: [...(board.battery ? [`power.battery.${board.id}`] : [])],
    about: [board.id],
    proof: [
      ...meanwhile(
        choice('change-over', board.battery ? 'Going over to the battery' : 'When power went', [
          ...(board.battery
            ? ([['no-event', 'No event, nothing restarted', 'pass']] as const)
            : ([['goes-dark', 'It went dark, as planned', 'pass']] as const)),
          [
            'event',
            'A false event',
            'fail',
            'Find what fell out: a detector that restarts, a battery that gives way, a router without power.',
          ],
        ]),
        ...when(
          board.battery !== null,
          reading({
            field: 'aux',
            of: 'volts-dc',
            label: `Aux of ${board.id} on the battery, at least five minutes after`,
            between: [`${board.id}:${board.aux.positive}`, `${board.id}:${board.aux.negative}`],
            ...(board.battery ? onBatteryReading(board, board.battery) : {}),
            danger: false,
            follows:
              'Put the adapter back. So low after five minutes the battery is nearly flat or worn: fit a charged one. So high the adapter still feeds it.',
          }),
        ),
        choice('network', 'Events while the network’s plug was out', [
          ['arrived', 'Arrived, the network has its own backup', 'pass'],
          ['later', 'Arrived once it was back', 'pass'],
          ['lost', 'Did not arrive: known, and said to the owner', 'pass'],
          CANNOT,
        ]),
      ),
      choice('back', 'When mains came back', [
        ['no-event', 'No false event', 'pass'],
        [
          'event',
          'A false event',
          'fail',
          'Find what fell out: a detector that restarts, a battery that gives way, a router without power.',
        ],
      ]),
    ],
  });
}

/** Answered while the adapter is out: after it was pulled, before it goes back. */
const meanwhile = (...proof: Proof[]): Proof[] => proof.map((one) => ({ ...one, after: 1 }));
