import { CANNOT, card, choice, who } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';
import { centreEnd } from './centre.ts';
import { impairmentRestore } from './life-safety.ts';

/** Stage 15: what ends the job for the people who live with it. */
export function handoverSteps(facts: Facts): Step[] {
  return [card15(), user(), ...waste(facts), ...centreEnd(facts), ...impairmentRestore(facts)];
}

function card15(): Step {
  return card('handover', {
    id: 'handover.card',
    title: 'Put the zone card into the door, and tag the old feed’s socket',
    why: 'The next person must see what is where, and that the old transformer is not for this board.',
    cautions: cautions('ac-on-dc'),
    hard: false,
    needs: 'any',
    waitsFor: [],
    about: ['panel'],
    proof: [
      choice('card', 'Zone card', [
        ['in-door', 'In the door', 'pass'],
        ['given', 'Given to the owner', 'pass'],
        CANNOT,
      ]),
      choice('old-feed', 'Old transformer', [
        ['taken', 'Taken away', 'pass'],
        ['tagged', 'Tagged: not for this board', 'pass'],
        ['none', 'There was none', 'pass'],
      ]),
    ],
  });
}

function user(): Step {
  return card('handover', {
    id: 'handover.user',
    title: 'Show the people who live with it what reports, what does not, and whom to call',
    why: 'It behaves differently from the old one, above all when mains or network fail.',
    hard: false,
    about: ['occupants'],
    proof: [
      who('who', 'Who was shown', ['owner', 'occupant', 'caretaker']),
      choice('open-points', 'Open points and deviations', [
        ['none', 'There are none', 'pass'],
        ['read', 'Read out and accepted', 'pass'],
        ['not-accepted', 'Not accepted', 'fail'],
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
