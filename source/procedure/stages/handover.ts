import { CANNOT, card, choice, when, who } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';
import { centreEnd } from './centre.ts';
import { impairmentRestore, lifeSafetyNames } from './life-safety.ts';
import { batteryStep } from './power-down.ts';
import { walkTestSteps } from './walk-test.ts';

/**
 * Stage 15: what ends the job for the people who live with it. What is shown, written up and read back to a centre
 * is what the walk test found: tests come before completion (CLC/TS 50131-7 10.2; its year, 2010, from memory), the
 * signals received in them are compared with one's own list before a site is taken off test (receiving centres'
 * guidance).
 */
export function handoverSteps(facts: Facts): Step[] {
  const tests = walkTestSteps(facts).map((step) => step.id);
  return [
    zoneCard(facts, tests),
    user(facts, tests),
    ...waste(facts),
    ...centreEnd(facts, tests),
    ...impairmentRestore(facts),
  ];
}

function zoneCard({ mainsFed }: Facts, tests: readonly string[]): Step {
  return card('handover', {
    id: 'handover.card',
    title: mainsFed
      ? 'Put the zone card into the door'
      : 'Put the zone card into the door, and tag the old feed’s socket',
    why: 'The next person must see what is where, and that the old transformer is not for this board.',
    cautions: cautions('ac-on-dc'),
    hard: false,
    waitsFor: tests,
    about: ['panel'],
    proof: [
      choice('card', 'Zone card', [
        ['in-door', 'In the door', 'pass'],
        ['given', 'Given to the owner', 'pass'],
        CANNOT,
      ]),
      choice(
        'old-feed',
        'Old feed',
        mainsFed
          ? [
              ['isolated', 'Stays isolated, by the electrician', 'pass'],
              ['removed', 'Removed by the electrician', 'pass'],
            ]
          : [
              ['taken', 'Its plug taken away', 'pass'],
              ['tagged', 'Tagged: not for this board', 'pass'],
            ],
      ),
    ],
  });
}

function user(facts: Facts, tests: readonly string[]): Step {
  return card('handover', {
    id: 'handover.user',
    title: 'Show the people who live with it what reports, what does not, and whom to call',
    why: 'It behaves differently from the old one, above all when mains or network fail.',
    hard: false,
    waitsFor: tests,
    about: ['occupants'],
    proof: [
      who('who', 'Who was shown', ['owner', 'occupant', 'caretaker']),
      ...when(
        facts.hasLifeSafety,
        choice('rooms', `No alarm of the new board comes from ${lifeSafetyNames(facts)}`, [
          ['told', 'Shown, and known what protects people there', 'pass'],
          CANNOT,
        ]),
      ),
      choice('open-points', 'Open points and deviations', [
        ['none', 'There are none', 'pass'],
        ['read', 'Read out and accepted', 'pass'],
        [
          'not-accepted',
          'Not accepted',
          'fail',
          'Write down what is not accepted, and settle it with the owner; the job stays open until then.',
        ],
      ]),
    ],
  });
}

function waste(facts: Facts): Step[] {
  const { batteries } = facts.plan.survey.panel;
  if (batteries.length === 0) return [];
  return [
    card('handover', {
      id: 'handover.battery',
      title: `Take the ${batteries.length === 1 ? 'old battery' : `${batteries.length} old batteries`} to recycling, terminals covered`,
      why: 'It is hazardous waste, and still holds enough to start a fire.',
      cautions: cautions('waste'),
      hard: false,
      waitsFor: batteries.map((_, place) => batteryStep(place)),
      about: ['battery'],
      proof: [
        choice('battery', 'The battery', [
          ['taken-along', 'Taken along to a collection point', 'pass'],
          ['handed-in', 'Handed in', 'pass'],
          ['stays', 'Stays with the owner, who was told', 'pass'],
          CANNOT,
        ]),
      ],
    }),
  ];
}
