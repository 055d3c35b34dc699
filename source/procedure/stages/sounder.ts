import { maySoundUnnamed } from '../../site/outside.ts';
import type { Sounder } from '../../site/survey.ts';
import type { Act } from '../../wiring/act.ts';
import { CANNOT, type Choice, card, choice, leaving, NOT_SURE, who, words } from '../card.ts';
import { cautions } from '../cautions.ts';
import { bare, type Facts, wire } from '../facts.ts';
import type { Proof, Step } from '../step.ts';
import { decided, enclosureOpen } from './mains.ts';

const planOf = (sounder: Sounder) => `sounder.plan.${sounder.id}`;
const way = (sounder: Sounder, option: string) => [{ step: planOf(sounder), options: [option] }];
const WAYS = ['at-box', 'hold-off', 'sounds'] as const;
type Way = (typeof WAYS)[number];
const madeSafe = (sounder: Sounder, by: Way) => `sounder.${by}.${sounder.id}`;

/** A sounder with a battery or hold-off of its own is dealt with before power-down, in one of three ways. */
export function sounderSteps(facts: Facts): Step[] {
  return [
    ...look(facts),
    ...facts.selfPowered.flatMap((sounder) => [
      plan(facts, sounder),
      atBox(sounder),
      holdOff(facts, sounder),
      sounds(sounder),
    ]),
  ];
}

/** What power-down waits for: whichever way was chosen, the others are ruled out. */
export function sounderWaits(facts: Facts): string[] {
  return [
    ...look(facts).map((step) => step.id),
    ...facts.selfPowered.flatMap((sounder) => WAYS.map((by) => madeSafe(sounder, by))),
  ];
}

/**
 * What is settled before an electrician takes the mains away with the lid still shut: a pair inside that is to be held
 * live stays so by the panel's battery until somebody can get at it.
 */
export function sounderDecisions(facts: Facts): string[] {
  const ways = ['at-box', 'sounds'] as const;
  return [
    ...look(facts).map((step) => step.id),
    ...facts.selfPowered.flatMap((sounder) => [planOf(sounder), ...ways.map((by) => madeSafe(sounder, by))]),
  ];
}

function look(facts: Facts): Step[] {
  if (!maySoundUnnamed(facts.plan.survey)) return [];
  const step = card('power-down', {
    id: 'sounder.look',
    title: 'Look for a sounder that hangs on this panel and has a battery of its own',
    why: 'The survey names none. Cut off from the panel it sounds by itself, at the ear of whoever stands beside it.',
    cautions: cautions('sounder-battery', 'sounder-loud'),
    waitsFor: decided(facts),
    about: ['sounders'],
    proof: [
      choice('sounder', 'What you found', [
        ['none', 'None, inside or outside', 'pass'],
        [
          'found',
          'A sounder',
          'fail',
          'Nothing is powered down before it is decided how it is kept quiet. Add it to the survey by a correction (sounders): its cards then come first.',
        ],
        NOT_SURE,
      ]),
    ],
  });
  return [step];
}

/** Conductors that are live on purpose under a choice, and so excepted from the proof of dead by name. */
export function keptLive(facts: Facts) {
  return facts.selfPowered.map((sounder) => ({
    step: planOf(sounder),
    option: 'hold-off',
    points: [
      ...holdOffWires(facts, sounder),
      ...facts.plan.survey.panel.terminals
        .filter((one) => one.role === 'sounder')
        .map((one) => `old:${bare(one.number)}`),
    ],
  }));
}

/** A proof of dead without the pairs that are kept live on purpose, each left out by name. */
export function withExceptions(proof: Proof, live: ReturnType<typeof keptLive>): Proof {
  return proof.kind === 'sweep' && live.length > 0 ? { ...proof, except: live } : proof;
}

function holdOffWires(facts: Facts, sounder: Sounder): string[] {
  const own = facts.conductors.filter((one) => one.cable === sounder.cable && one.atPanel);
  const named = own.filter((one) => one.use === 'hold-off' || one.use === 'sounder-negative');
  return (named.some((one) => one.use === 'hold-off') ? named : own).map((one) => one.id);
}

function plan(facts: Facts, sounder: Sounder): Step {
  return card('power-down', {
    id: planOf(sounder),
    title: `Choose how ${sounder.name} is kept from sounding when its line goes`,
    why: 'It may have a battery of its own, and takes a dead line for an attack.',
    cautions: cautions('sounder-battery', 'sounder-loud', 'sounding-time'),
    waitsFor: decided(facts),
    about: [sounder.id],
    proof: [
      choice('way', 'The way', [
        ['at-box', 'Make it safe at the box first: tamper and battery', 'branch'],
        ['hold-off', 'Keep its hold-off pair supplied, from a source of its own', 'branch'],
        ['sounds', 'Let it sound: everybody told, the stop ready', 'branch'],
        NOT_YET,
      ]),
    ],
  });
}

const NOT_YET: Choice = [
  'not-yet',
  'None of these is possible today',
  'fail',
  'The panel stays on today: nothing is powered down while the sounder cannot be kept quiet.',
];

function holdOff(facts: Facts, sounder: Sounder): Step {
  const wires = holdOffWires(facts, sounder).map((id) => wire(facts, id));
  return card('power-down', {
    id: madeSafe(sounder, 'hold-off'),
    title: `Name, tag and insulate the pair of ${sounder.name} that stays live`,
    why: `It is kept live on purpose, so the proof of dead leaves it out by name: ${wires.join(' and ')}.`,
    cautions: cautions('several-sources', 'sounder-battery'),
    waitsFor: [planOf(sounder), ...enclosureOpen(facts)],
    onlyIf: way(sounder, 'hold-off'),
    about: [sounder.id],
    proof: [
      words('source', 'What supplies it', ['fused 12 V battery', 'its own adapter']),
      choice('pair', 'The pair', [['tagged', 'Tagged LIVE, its joints insulated', 'pass'], CANNOT]),
    ],
  });
}

function atBox(sounder: Sounder): Step {
  return card('power-down', {
    id: madeSafe(sounder, 'at-box'),
    title: `Make ${sounder.name} safe at its box: ears covered, tamper first, then its battery lead`,
    why: 'Without its battery it cannot sound, whatever happens to its line.',
    cautions: cautions('ladder', 'sounder-loud', 'battery-short'),
    acts: [{ do: 'isolate', source: `sounder:${sounder.id}` }],
    waitsFor: [planOf(sounder)],
    onlyIf: way(sounder, 'at-box'),
    about: [sounder.id],
    proof: [
      choice('access', 'How it was reached', [
        ['platform', 'From a platform or from a window', 'pass'],
        ['ladder', 'From a footed ladder, short work', 'pass'],
        CANNOT,
      ]),
      choice('battery', 'Its battery', [
        ['off', 'Lead off and insulated', 'pass'],
        ['none', 'There is none inside', 'pass'],
        CANNOT,
      ]),
    ],
  });
}

function sounds(sounder: Sounder): Step {
  return card('power-down', {
    id: madeSafe(sounder, 'sounds'),
    title: `Have everybody within earshot know that ${sounder.name} will sound, and how it is stopped`,
    why: 'It may sound until its battery is empty.',
    cautions: cautions('sounder-loud', 'sounding-time'),
    waitsFor: [planOf(sounder)],
    onlyIf: way(sounder, 'sounds'),
    about: [sounder.id],
    proof: [
      who('told', 'Who was told', ['occupants and neighbours', 'nobody is near']),
      choice('stop', 'How it is stopped', [
        ['reach', 'At the box, which can be reached safely', 'pass'],
        ['runs-down', 'It may run down, local rules allow it', 'pass'],
        [
          'no-way',
          'No way',
          'fail',
          'It must not be left to sound with no way to stop it. Reopen the choice, and take another way.',
        ],
      ]),
    ],
  });
}

/** Battery back in its box, once its new line holds it off. */
export function restoreSounder(facts: Facts, sounder: Sounder): Step[] {
  if (!facts.selfPowered.includes(sounder)) return [];
  const acts: Act[] = [{ do: 'connect-source', source: `sounder:${sounder.id}`, board: null }];
  return [
    card('walk-test', {
      id: `sounder.restore.${sounder.id}`,
      title: `Connect the battery of ${sounder.name} again, and close its box`,
      why: 'The new output holds it off now.',
      cautions: cautions('ladder', 'sounder-loud', 'battery-short'),
      acts,
      needs: 'energised',
      hard: false,
      onlyIf: way(sounder, 'at-box'),
      about: [sounder.id],
      proof: [
        leaving(
          choice('battery', 'Its battery', [
            ['on', 'On, and it keeps quiet', 'pass'],
            ['none', 'It has none', 'pass'],
            ['given-up', 'Left out for good, and taken away', 'pass'],
            [
              'loud',
              'It sounds',
              'fail',
              'Go no further there. Ears covered, take its battery off again, and find out why its new line does not hold it off.',
            ],
          ]),
          { 'given-up': acts },
        ),
      ],
    }),
  ];
}
