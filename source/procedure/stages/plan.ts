import { card, choice, NOT_SURE, number, who } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Step } from '../step.ts';
import { baselineWaits, decided, enclosureOpen } from './mains.ts';

/** Stage 2: the plan is read and agreed before anything is bought or touched. */
export function planSteps(facts: Facts): Step[] {
  return [accept(facts), ...mainsOutputs(facts)];
}

function accept(facts: Facts): Step {
  const { circuits, boards, findings, parts } = facts.plan;
  const detectors = circuits.reduce((sum, one) => sum + one.detectors.length, 0);
  const cautioned = findings.filter((one) => one.severity === 'caution' || one.severity === 'gate');
  return card('plan', {
    id: 'plan.accept',
    title: `Agree the plan: ${detectors} detectors on ${circuits.length} inputs of ${listed(boards.map((one) => one.id))}`,
    why:
      cautioned.length === 0
        ? 'Nothing speaks against it.'
        : `It comes with ${cautioned.length} ${cautioned.length === 1 ? 'caution' : 'cautions'}: read each before it is agreed.`,
    hard: true,
    waitsFor: facts.mainsFed ? decided(facts) : ['survey.inside', ...baselineWaits(facts)],
    about: boards.map((one) => one.id),
    proof: [
      choice('plan', 'The plan', [
        ['agreed', 'Read with its cautions, and agreed', 'pass'],
        [
          'differs',
          'Something is not as it is on site',
          'fail',
          'Correct the survey by what is on site; the plan is made again and its difference shown.',
        ],
        NOT_SURE,
      ]),
      choice('parts', `Parts: ${listed(parts.map(({ count, item }) => `${count}× ${item}`))}`, [
        ['there', 'All there', 'pass'],
        ['coming', 'Some are still coming', 'pass'],
      ]),
    ],
  });
}

/** Relays that switch mains, or may: the electrician's, before the panel goes off. */
function mainsOutputs(facts: Facts): Step[] {
  return facts.plan.survey.outputs.flatMap((output, place) => {
    if (output.voltage === 'extra-low') return [];
    return [
      card('plan', {
        id: `output.${place + 1}`,
        title: `Have a licensed electrician take ${output.drives} off the relay at ${listed(output.terminals)}`,
        why: 'It switches mains, or may. Its wires are in the enclosure.',
        cautions: cautions('mains-inside'),
        acts: [],
        // Taking it off may stop what people need: they are told before.
        waitsFor: [...enclosureOpen(facts), 'notify.occupants'],
        about: [...output.terminals],
        proof: [
          who('electrician', 'Name of the electrician', []),
          number('licence', 'Licence number of the electrician'),
          choice('state', 'What the electrician did', [
            ['removed', 'Disconnected, made safe and proved dead', 'pass'],
            ['extra-low', 'Found that it is extra-low voltage', 'pass'],
            [
              'not-yet',
              'Nothing yet',
              'fail',
              'Nothing is powered down or touched there. A licensed electrician disconnects, proves and signs.',
            ],
          ]),
        ],
      }),
    ];
  });
}

/** What powering down waits for on account of outputs. */
export function outputWaits(facts: Facts): string[] {
  return mainsOutputs(facts).map((step) => step.id);
}
