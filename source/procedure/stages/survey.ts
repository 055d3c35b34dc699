import { CANNOT, card, choice, count, NOT_SURE, number, reading, when } from '../card.ts';
import { cautions } from '../cautions.ts';
import { type Facts, lifeSafetyRecords, listed } from '../facts.ts';
import type { Step } from '../step.ts';
import { centreSteps } from './centre.ts';
import { heldOut, lifeSafetySteps } from './life-safety.ts';
import { enclosureOpen, mainsFound, mainsRecord } from './mains.ts';
import { sounderDecisions } from './sounder.ts';

/** Stage 1: first what can be seen with the enclosure shut, then what is inside. */
export function surveySteps(facts: Facts): Step[] {
  return [
    scope(),
    outside(facts),
    ...lifeSafetySteps(facts),
    ...centreSteps(facts),
    ...mainsRecord(facts, ['survey.outside', ...peopleFirst(facts)]),
    open(facts),
    ...mainsFound(facts),
    ...(facts.plan.survey.complete ? [...baseline(facts), inside(facts)] : []),
  ];
}

function scope(): Step {
  return card('survey', {
    id: 'survey.scope',
    title: 'Say in which role you do this work, and under which permit',
    why: 'In many places alarm work needs a licence or a permit, and a tenant needs the owner.',
    cautions: cautions('local-rules'),
    hard: false,
    proof: [
      choice('role', 'Your role', [
        ['installer', 'Installer, qualified for this work here', 'pass'],
        ['owner', 'Owner, working on my own premises', 'pass'],
        [
          'neither',
          'Neither',
          'fail',
          'This work is not yours to do here. Go no further; whoever is qualified or owns the premises goes on.',
        ],
      ]),
      choice('permit', 'Licence or permit', [
        ['held', 'Held', 'pass'],
        ['none-needed', 'Asked: none is needed', 'pass'],
        [
          'not-sure',
          'Not sure',
          'fail',
          'You may not go on until the authority here has been asked. What it says rules over everything shown here.',
        ],
      ]),
    ],
  });
}

const FEEDS: Readonly<Record<string, string>> = {
  'plug-in-transformer': 'A transformer that is plugged into a socket feeds it',
  'dc-adapter': 'A plug-in DC adapter feeds it',
  'hard-wired-transformer': 'A transformer that is wired to the mains feeds it',
  'mains-in-enclosure': 'A mains cable goes into the enclosure',
  unknown: 'How it is fed cannot be seen: it counts as mains',
};

function outside(facts: Facts): Step {
  const { outside } = facts.plan.survey;
  const unknownSources = outside.otherFeeds === 'unknown';
  return card('survey', {
    id: 'survey.outside',
    title: 'Look at the panel from outside with its door shut',
    why: 'What may feed it, and what it may protect, is settled before the door is opened.',
    cautions: cautions('mains-inside', 'several-sources'),
    about: ['panel'],
    proof: [
      choice('feed', 'How the panel is fed', [
        ['as-surveyed', FEEDS[outside.feed] ?? outside.feed, 'pass'],
        [
          'otherwise',
          'Otherwise than this',
          'fail',
          'Touch nothing and leave the door shut. Correct the survey (outside.feed): plan and steps follow what feeds it.',
        ],
        facts.mainsFed ? ['not-sure', 'Not sure: treated as mains', 'pass'] : NOT_SURE,
      ]),
      choice('sources', 'Other feeds, power supplies or batteries in the building', [
        ['as-surveyed', sources(facts), 'pass'],
        [
          'more',
          'There is more that feeds it',
          'fail',
          'Each keeps the wiring live by itself. Correct the survey (supplies): each then has a card of its own.',
        ],
        unknownSources ? ['not-sure', 'Not sure: looked for again when isolating', 'pass'] : NOT_SURE,
      ]),
      choice('life-safety', 'Smoke, heat, CO, gas, medical, sprinkler or the like on this panel', [
        ['as-surveyed', lifeSafetySeen(facts), 'pass'],
        [
          'more',
          'There is another one',
          'fail',
          'Nothing is powered down before the survey has it: add it by a correction. A life-safety circuit is never moved.',
        ],
        facts.hasLifeSafety ? ['not-sure', 'Not sure: treated as present', 'pass'] : NOT_SURE,
      ]),
      choice('set', 'How the system stands', [
        ['unset', 'Unset', 'pass'],
        ['service', 'In service mode', 'pass'],
        [
          'set',
          'Set',
          'fail',
          'Touch nothing. Whoever holds the code unsets it, or puts it into service mode.',
        ],
        NOT_SURE,
      ]),
    ],
  });
}

function sources(facts: Facts): string {
  const { supplies } = facts.plan.survey;
  if (supplies.length === 0) return 'None found';
  return `Only ${listed(supplies.map((one) => `${one.id} (${one.place})`))}`;
}

function lifeSafetySeen(facts: Facts): string {
  const held = heldOut(facts).map(({ name }) => name);
  if (held.length > 0) return `Only ${listed(held)}`;
  return facts.hasLifeSafety ? 'May be there' : 'None';
}

/**
 * Nobody is left unprotected without knowing it, and nothing is loud unannounced, whoever takes the power away (common
 * practice, no source; of life safety NFPA 72-2016 10.20). A survey of the outside alone leads no further than the door.
 */
function peopleFirst(facts: Facts): string[] {
  const told = facts.plan.survey.complete
    ? ['plan.accept', 'notify.occupants', ...sounderDecisions(facts)]
    : [];
  return [...lifeSafetyRecords(facts), ...centreWaits(facts), ...told];
}

/** The centre is on test before a lid is lifted: a lid has a contact of its own. */
function centreWaits(facts: Facts): string[] {
  return facts.mayBeMonitored ? ['centre.on-test'] : [];
}

/** Nothing here fails: what is seen inside is no mistake, and one answer must never take another one back. */
function open(facts: Facts): Step {
  const leads = facts.mainsFed ? 'pass' : 'branch';
  return card('survey', {
    id: 'survey.open',
    title: 'Open the enclosure and look, without touching anything inside',
    why: 'What is inside decides whether the plan may stand.',
    cautions: cautions('mains-inside', 'battery-short'),
    acts: [{ do: 'open-enclosure' }],
    waitsFor: ['survey.outside', ...centreWaits(facts), ...(facts.mainsFed ? ['electrician.record'] : [])],
    about: ['panel'],
    proof: [
      choice('mains', 'Mains inside', [
        ['none', 'No mains cable, fuse or terminal inside', leads],
        ['seen', 'There is mains inside', leads],
        ['not-sure', 'Not sure: treated as mains', leads],
      ]),
      choice('sounding', 'What opening it did', [
        ['quiet', 'Nothing sounds', 'pass'],
        ['loud', 'A sounder sounds: ears covered, lid shut, silenced before anything else', 'pass'],
      ]),
    ],
  });
}

/** A panel that was dead or weak before is a finding; more than its feed can give comes from somewhere else. */
const EXTRA_LOW = {
  usable: { min: -30, max: 30 },
  follows:
    'No supply of such a panel gives that. Hands off, lid shut: a licensed electrician finds where it comes from before anything is read again.',
};

/** Live readings only where a plug feeds the panel; with mains about, ohms are read once all is dead. */
function baseline(facts: Facts): Step[] {
  if (facts.mainsFed) return [];
  const { survey } = facts.plan;
  return [
    card('survey', {
      id: 'survey.baseline',
      title: 'Open and restore each zone at the keypad, and read aux and battery',
      why: 'What was already dead before the work began is nobody’s doing afterwards.',
      cautions: cautions('battery-short'),
      waitsFor: enclosureOpen(facts),
      about: survey.zones.map((zone) => zone.id),
      proof: [
        ...survey.zones.map((zone) =>
          choice(zone.id, `Zone ${zone.id} (${zone.name}): opened and restored`, [
            ['follows', 'The keypad follows', 'pass'],
            ['dead', 'It does not follow', 'pass'],
            ['not-tried', 'Not tried', 'pass'],
          ]),
        ),
        ...when(
          survey.panel.terminals.some((one) => one.role === 'aux-positive'),
          reading({
            field: 'aux',
            of: 'volts-dc',
            label: 'Aux output of the old panel',
            between: [screw(facts, 'aux-positive'), screw(facts, 'aux-negative')],
            min: 11,
            nominal: 13.5,
            max: 15,
            ...EXTRA_LOW,
          }),
        ),
        ...when(
          survey.panel.batteries.length > 0,
          reading({
            field: 'battery',
            of: 'volts-dc',
            label: 'Standby battery, still connected: red probe on its positive, black on its negative',
            between: ['battery:1+', 'battery:1-'],
            min: 12,
            nominal: 13.6,
            max: 14.4,
            ...EXTRA_LOW,
          }),
        ),
      ],
    }),
  ];
}

function screw(facts: Facts, role: string): string {
  return `old:${facts.plan.survey.panel.terminals.find((one) => one.role === role)?.number ?? role}`;
}

function inside(facts: Facts): Step {
  const { survey, wiring } = facts.plan;
  const wires = wiring.conductors.filter((one) => one.atPanel && one.screw !== null).length;
  return card('survey', {
    id: 'survey.inside',
    title: 'Compare strip, wires and resistors with the survey, and photograph them',
    why: 'A wire that the survey does not know is found now, not when it hangs loose.',
    waitsFor: enclosureOpen(facts),
    about: ['panel'],
    proof: [
      choice('strip', `Strip of ${survey.panel.terminals.length} screws, by the diagram in the door`, [
        ['as-surveyed', 'Numbered and used as surveyed', 'pass'],
        [
          'differs',
          'Something differs',
          'fail',
          'The plan rests on the survey: correct it, and look at what changes, before going on.',
        ],
        CANNOT,
      ]),
      count('wires', 'Wires under its screws: how many', { survey: wires }),
      choice('resistors', 'Resistors at the strip', [
        ['as-surveyed', 'As surveyed, by their colours', 'pass'],
        [
          'differs',
          'Other values or other places',
          'fail',
          'The plan rests on the survey: correct the resistors of that zone before going on.',
        ],
        ['hidden', 'They cannot be seen', 'pass'],
      ]),
      {
        ...number('photos', 'Photographs taken: how many, or why none', ['none: no camera at hand']),
        check: { is: 'photographs' },
      },
    ],
  });
}
