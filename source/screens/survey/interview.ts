import { remember } from '../../plan/remember.ts';
import type { Written } from '../../site/document.ts';
import { SurveyBuilder } from './builder.ts';
import { BOARDS, EMERGENCY_KEYS, ENCLOSURES, FEEDS, PRESENCE, SET, SIGNALLING, YES_NO } from './options.ts';
import { type Answers, choice, figure, type Question, words } from './question.ts';
import { zone } from './zone.ts';

type Interview = Generator<Question, void, string>;

/** The first survey, from outside to inside and zone by zone: each answer settles what is asked next. */
function* survey(builder: SurveyBuilder): Interview {
  yield* outside(builder);
  yield* panel(builder);
  for (let number = 1; ; number++) {
    const more = yield* zone(builder, number);
    if (!more) break;
  }
  yield* sounder(builder);
  yield* keypad(builder);
}

function* outside(builder: SurveyBuilder): Interview {
  const about = 'From outside, with the enclosure shut';
  builder.site = { name: yield words({ id: 'site.name', about: 'The place', asks: 'What is it called?' }) };
  builder.outside = {
    feed: yield choice({ id: 'outside.feed', about, asks: 'How is the old panel fed?' }, ...FEEDS),
    signalling: yield choice(
      { id: 'outside.signalling', about, asks: 'How does it call out?' },
      ...SIGNALLING,
    ),
    monitored: yield yesNo('outside.monitored', about, 'Does a receiving centre listen?'),
    set: yield choice({ id: 'outside.set', about, asks: 'How does the system stand?' }, ...SET),
    lifeSafety: yield presence(
      'outside.lifeSafety',
      about,
      'Smoke, heat, gas, medical or the like on this panel?',
    ),
    otherFeeds: yield presence('outside.otherFeeds', about, 'Other power supplies that feed detectors?'),
    sounderBattery: yield yesNo('outside.sounderBattery', about, 'Has the sounder a battery of its own?'),
  };
}

function* panel(builder: SurveyBuilder): Interview {
  const about = 'Inside the panel';
  const enclosure = yield choice(
    { id: 'panel.enclosure', about, asks: 'What is the enclosure of?' },
    ...ENCLOSURES,
  );
  const capacity = yield figure(
    { id: 'panel.battery', about, asks: 'Standby battery, in Ah', standard: '7 Ah' },
    'ampHours',
  );
  builder.panel = { enclosure, batteries: [{ capacity, chemistry: 'sealed-lead-acid' }] };
  builder.board = yield choice({ id: 'board', about: 'The new board', asks: 'Which one?' }, ...BOARDS);
}

/** A sounder with its cable, where there is one. */
export function* sounder(builder: SurveyBuilder): Interview {
  const name = yield words({
    id: 'sounder.name',
    about: 'Sounder',
    asks: 'What is it called? (Enter: there is none)',
    standard: '',
  });
  if (name === '') return;
  const length = yield figure(
    { id: 'sounder.length', about: name, asks: 'How long is its cable?' },
    'metres',
  );
  const current = yield figure({ id: 'sounder.current', about: name, asks: 'What it draws, in mA' }, 'amps');
  const cable = builder.addCable({
    length,
    conductor: 'unknown',
    cores: [
      ['red', 'sounder-positive'],
      ['black', 'sounder-negative'],
    ],
  });
  builder.addSounder({
    id: builder.idFor(name),
    name,
    cable,
    current,
    ownBattery: builder.outside.sounderBattery ?? 'unknown',
  });
}

function* keypad(builder: SurveyBuilder): Interview {
  const keys = yield choice(
    { id: 'keypad.keys', about: 'Keypad', asks: 'Has it keys for fire, medical or panic?' },
    ...EMERGENCY_KEYS,
    ['no-keypad', 'there is no keypad'],
  );
  if (keys !== 'no-keypad') {
    const length = yield figure(
      { id: 'keypad.length', about: 'Keypad', asks: 'How long is its cable?' },
      'metres',
    );
    const cable = builder.addCable({
      length,
      conductor: 'unknown',
      cores: [
        ['red', 'aux-positive'],
        ['black', 'aux-negative'],
        ['green', 'keypad'],
        ['white', 'keypad'],
      ],
    });
    builder.addKeypad({ id: builder.idFor('keypad'), cable, emergencyKeys: keys });
  }
  if (builder.outside.signalling === 'telephone') {
    builder.addCable({
      length: 'unknown',
      conductor: 'unknown',
      cores: [
        ['orange', 'telephone'],
        ['white', 'telephone'],
      ],
    });
  }
}

function yesNo(id: string, about: string, asks: string): Question {
  return choice({ id, about, asks }, ...YES_NO);
}

function presence(id: string, about: string, asks: string): Question {
  return choice({ id, about, asks }, ...PRESENCE);
}

/** How far the answers go: the questions they answer, the one that is open, the file as far as it stands. */
type Progress = {
  readonly asked: readonly Question[];
  readonly open: Question | null;
  readonly fields: Written;
  readonly zones: number;
};

/** Puts the answers to the questions of the first survey, from the first on, as far as they go. */
export const interview = remember((answers: Answers): Progress => {
  const builder = new SurveyBuilder();
  const { asked, open } = put(answers, survey(builder));
  return { asked, open, fields: builder.fields, zones: builder.zoneCount };
});

/** Puts answers to questions, from the first on, as far as they go. */
export function put(
  answers: Answers,
  asking: Generator<Question, unknown, string>,
): Pick<Progress, 'asked' | 'open'> {
  const asked: Question[] = [];
  for (let step = asking.next(); ; ) {
    if (step.done) return { asked, open: null };
    const answer = answers[step.value.id];
    if (answer === undefined) return { asked, open: step.value };
    asked.push(step.value);
    step = asking.next(answer);
  }
}
