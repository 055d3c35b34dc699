import { CANNOT, card, choice, number, time, who, words } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';

const MONITORED = 'centre.monitored';
/** Not knowing counts as monitored: somebody may be dispatched. */
const WHEN_MONITORED = ['monitored', 'not-sure'];

/** Whether anybody listens, and the centre on test before a lid is lifted. */
export function centreSteps(facts: Facts): Step[] {
  if (!facts.mayBeMonitored) return [];
  return [...(asks(facts) ? [monitored()] : []), onTest(facts)];
}

const asks = (facts: Facts) => facts.plan.survey.outside.monitored === 'unknown';
const branch = (facts: Facts) => (asks(facts) ? [{ step: MONITORED, options: WHEN_MONITORED }] : []);

function monitored(): Step {
  return card('survey', {
    id: MONITORED,
    title: 'Find out whether a receiving centre listens to this panel',
    why: 'A centre that nobody told sends somebody.',
    hard: true,
    waitsFor: ['survey.outside'],
    about: ['centre'],
    proof: [
      choice('centre', 'What you found', [
        ['monitored', 'It is monitored', 'branch'],
        ['none-found', 'None found', 'branch'],
        ['not-sure', 'Not sure: treated as monitored', 'branch'],
      ]),
      words('looked', 'Where you looked', ['letters and bills', 'stickers and keypad', 'asked the occupant']),
    ],
  });
}

function onTest(facts: Facts): Step {
  return card('notify', {
    id: 'centre.on-test',
    title: 'Call the receiving centre and have the site put on test',
    why: 'Opening the lid, pulling the feed and every test would otherwise bring a dispatch.',
    cautions: cautions('off-test'),
    hard: false,
    waitsFor: asks(facts) ? [MONITORED] : ['survey.outside'],
    onlyIf: branch(facts),
    about: ['centre'],
    proof: [
      who('operator', 'Name or initials of the operator', []),
      time('until', 'On test until', ['18:00', '24 hours from now']),
      number('reference', 'Reference number that the operator gave'),
      choice('on-test', 'The operator’s word', [
        ['on-test', 'On test', 'pass'],
        [
          'refused',
          'Refused',
          'fail',
          'You may not go on until the site is on test. Have somebody call whom the operator knows: the account holder, with the password.',
        ],
        CANNOT,
      ]),
    ],
  });
}

/** The other end of it: never left to time out. */
export function centreEnd(facts: Facts, tests: readonly string[]): Step[] {
  if (!facts.mayBeMonitored) return [];
  return [
    card('handover', {
      id: 'centre.end',
      title: 'Have the receiving centre take the site off test, or cancel the account',
      why: 'A test that runs out by itself dispatches, or leaves nobody listening.',
      cautions: cautions('off-test'),
      hard: false,
      waitsFor: ['centre.on-test', ...tests],
      onlyIf: branch(facts),
      about: ['centre'],
      proof: [
        choice('end', 'How it ended', [
          ['off-test', 'Off test, the received signals were read out and agree', 'pass'],
          ['cancelled', 'Account cancelled in writing', 'pass'],
          ['none-found', 'No centre could be found after all', 'pass'],
          [
            'still-on-test',
            'Still on test',
            'fail',
            'Do not leave it so. Call again before you go: a test that runs out dispatches, or leaves nobody listening.',
          ],
        ]),
        who('operator', 'Name or initials, or where you looked', ['asked the occupant', 'letters and bills']),
      ],
    }),
  ];
}
