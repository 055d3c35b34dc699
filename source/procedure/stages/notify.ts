import { telephoneLine } from '../../site/outside.ts';
import { CANNOT, card, choice, time, when, who } from '../card.ts';
import { cautions } from '../cautions.ts';
import type { Facts } from '../facts.ts';
import type { Step } from '../step.ts';
import { lifeSafetyNames } from './life-safety.ts';

/** Stage 4: people, before anything goes silent or loud. (The centre comes earlier: before a lid is lifted.) */
export function notifySteps(facts: Facts): Step[] {
  return [
    card('notify', {
      id: 'notify.occupants',
      title: 'Tell occupants and insurer from when to when the premises are unprotected',
      why: 'From power-down to the walk test nothing reports a break-in.',
      cautions: cautions('unprotected'),
      hard: false,
      waitsFor: ['plan.accept'],
      about: ['occupants'],
      proof: [
        who('who', 'Who was told', ['occupant', 'owner', 'caretaker']),
        time('until', 'Protected again by', ['18:00 today', 'tomorrow evening']),
        choice('insurer', 'The insurer', [
          ['told', 'Told', 'pass'],
          ['not-needed', 'The contract asks for nothing', 'pass'],
          CANNOT,
        ]),
        ...when(
          telephoneLine(facts.plan.survey) !== 'no',
          choice('calls', 'Emergency calls while the telephone line is unplugged', [
            ['other', 'Told: over another telephone, which was tried', 'pass'],
            ['none-on-it', 'No telephone hangs on that line', 'pass'],
            CANNOT,
          ]),
        ),
        ...when(
          facts.hasLifeSafety,
          choice('rooms', `From power-down on without detection: ${lifeSafetyNames(facts)}`, [
            ['told', 'Told, with who or what watches over people meanwhile', 'pass'],
            ['covered', 'Covered by the independent protection on record', 'pass'],
            CANNOT,
          ]),
        ),
        ...when(
          facts.plan.survey.sounders.length > 0,
          choice('neighbours', 'Neighbours, as a sounder may sound', [
            ['told', 'Told', 'pass'],
            ['none-near', 'There are none within earshot', 'pass'],
            CANNOT,
          ]),
        ),
      ],
    }),
  ];
}
