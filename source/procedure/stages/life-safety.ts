import { card, choice, NOT_SURE, number, time, who, words } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, listed } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { PANEL_STEP } from './clear-panel.ts';

const DECISION = 'life-safety.decision';

/**
 * Smoke, heat, CO, medical, sprinkler and what counts as such until it has been seen: none of it is moved, and
 * nothing is powered down before its protection stands elsewhere or its outage is on record.
 */
export function lifeSafetySteps(facts: Facts): Step[] {
  if (!facts.hasLifeSafety) return [];
  const what = lifeSafetyNames(facts);
  const about = facts.plan.heldOut.map((one) => one.detector);
  return [decision(what, about), independent(what, about), impairment(what, about)];
}

/** What the panel carries of life safety, by name. */
export function lifeSafetyNames(facts: Facts): string {
  const names = heldOut(facts).map(({ name }) => name);
  return names.length > 0 ? listed(names) : 'life-safety detection that may hang on this panel';
}

/** The devices that the plan leaves alone, with their names. */
export function heldOut(facts: Facts): { readonly id: string; readonly name: string }[] {
  return facts.plan.heldOut.map(({ detector: id }) => ({ id, name: facts.detector(id)?.name ?? id }));
}

/**
 * A head on the ceiling that nothing is connected to any more is trusted by whoever sees it: it says so, comes down, or
 * answers to something else. (NFPA 72-2016 10.20 and 14.2.2.2: an impairment is tagged and told; that a dead head is marked
 * is common practice, no source.)
 */
export function deadHeads(facts: Facts): Proof[] {
  if (!facts.hasLifeSafety) return [];
  const heads = heldOut(facts);
  const all = heads.length > 0 ? heads : [{ id: 'heads', name: 'What was found of life safety' }];
  return all.map(({ id, name }) =>
    choice(`head:${id}`, `${name}, which detects nothing any more`, [
      ['marked', 'Marked where it hangs: out of service, and since when', 'pass'],
      ['down', 'Taken down by whoever may', 'pass'],
      ['served', 'Answers to other listed equipment, seen to work', 'pass'],
      [
        'unmarked',
        'Hangs there as before',
        'fail',
        'Whoever sees it relies on it. Mark it where it hangs before anything is mounted.',
      ],
    ]),
  );
}

function decision(what: string, about: readonly string[]): Step {
  return card('survey', {
    id: DECISION,
    title: 'Decide how people are protected while this panel is off',
    why: `The panel carries ${what}. That stays out of the new board for good.`,
    cautions: cautions('life-safety', 'impairment'),
    waitsFor: ['survey.outside'],
    about,
    proof: [
      choice('way', 'The protection while the panel is off', [
        ['independent', 'Listed protection that does not need this panel is in place', 'branch'],
        ['impairment', 'None: it will be out of service, as an impairment on record', 'branch'],
        [
          'stop',
          'Neither is possible: stop here',
          'fail',
          'The panel stays on. Nothing is powered down or moved until people are protected another way.',
        ],
        NOT_SURE,
      ]),
    ],
  });
}

function independent(what: string, about: readonly string[]): Step {
  return card('survey', {
    id: 'life-safety.independent',
    title: 'Record the independent listed protection',
    why: `It takes over from ${what} before anything is powered down.`,
    cautions: cautions('life-safety'),
    waitsFor: [DECISION],
    onlyIf: [{ step: DECISION, options: ['independent'] }],
    about,
    proof: [
      words('equipment', 'Which equipment, with its listing mark', [
        'listed smoke alarms',
        'listed fire panel',
      ]),
      who('by', 'Who installed and tested it', ['owner', 'fire-alarm contractor']),
      words('evidence', 'What shows it', ['certificate seen', 'tested before my eyes']),
    ],
  });
}

function impairment(what: string, about: readonly string[]): Step {
  return card('survey', {
    id: 'impairment.open',
    title: 'Record the impairment',
    why: `While ${what} is out of service, those who answer for it must know.`,
    cautions: cautions('impairment'),
    waitsFor: [DECISION],
    onlyIf: [{ step: DECISION, options: ['impairment'] }],
    about,
    proof: [
      who('owner', 'Which owner or coordinator was told', ['owner', 'responsible person']),
      time('until', 'Expected end, day and time', ['today', 'tomorrow']),
      who('notified', 'Who else was notified', [
        'fire department',
        'authority and insurer',
        'nobody is required',
      ]),
      choice('interim', 'Meanwhile', [
        ['alarms', 'Listed stand-alone alarms are up', 'pass'],
        ['watch', 'A fire watch is kept', 'pass'],
        ['empty', 'Nobody is in the building', 'pass'],
        [
          'nothing',
          'Nothing yet',
          'fail',
          'Nothing is powered down before somebody or something watches over the people here.',
        ],
      ]),
      number('tag', 'Number of the tag on the impaired panel'),
    ],
  });
}

/** Closing waits for this as long as the impairment stands. */
export function impairmentRestore(facts: Facts): Step[] {
  if (!facts.hasLifeSafety) return [];
  return [
    card('handover', {
      id: 'impairment.restore',
      title: 'Record that the life-safety protection is back in service',
      why: 'An impairment ends with protection that was seen to work, a name and a time.',
      cautions: cautions('impairment'),
      // It cannot end before it began: with the power that went off.
      waitsFor: ['impairment.open', PANEL_STEP],
      onlyIf: [{ step: DECISION, options: ['impairment'] }],
      about: facts.plan.heldOut.map((one) => one.detector),
      proof: [
        choice('protection', 'What protects people here now', [
          ['old-panel', 'The old panel, powered again, each of its detectors tested', 'pass'],
          ['new', 'New listed protection, tested', 'pass'],
          [
            'nothing',
            'Nothing that was tested yet',
            'fail',
            'The impairment goes on, and so does the watch over people here. Record its end once protection was seen to work.',
          ],
          NOT_SURE,
        ]),
        words('tested', 'What was tested, and how it answered', [
          'each detector, alarm heard',
          'certificate of the contractor seen',
        ]),
        who('by', 'Who restored and tested it', ['fire-alarm contractor', 'owner']),
        time('when', 'Day and time', ['today']),
        who('told', 'Who was told that it ended', ['owner', 'fire department']),
      ],
    }),
  ];
}
