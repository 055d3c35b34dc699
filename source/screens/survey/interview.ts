import type { Written } from '../../site/document.ts';
import { SurveyBuilder } from './builder.ts';
import { type Answers, choice, figure, type Question, words } from './question.ts';
import { zone } from './zone.ts';

export type Interview = Generator<Question, void, string>;

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
    feed: yield choice(
      { id: 'outside.feed', about, asks: 'How is the old panel fed?' },
      ['plug-in-transformer', 'a transformer plugged into a socket'],
      ['dc-adapter', 'a DC adapter plugged into a socket'],
      ['hard-wired-transformer', 'a transformer wired to the mains'],
      ['mains-in-enclosure', 'mains goes into the enclosure'],
      ['unknown', 'not sure'],
    ),
    signalling: yield choice(
      { id: 'outside.signalling', about, asks: 'How does it call out?' },
      ['none', 'not at all'],
      ['telephone', 'by telephone line'],
      ['network', 'by network'],
      ['radio', 'by radio'],
      ['unknown', 'not sure'],
    ),
    monitored: yield yesNo('outside.monitored', about, 'Does a receiving centre listen?'),
    set: yield choice(
      { id: 'outside.set', about, asks: 'How does the system stand?' },
      ['unset', 'unset'],
      ['service', 'in service mode'],
      ['set', 'set'],
      ['unknown', 'not sure'],
    ),
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
    ['metal', 'metal'],
    ['plastic', 'plastic'],
    ['wood', 'wood'],
    ['none', 'there is none'],
  );
  const capacity = yield figure(
    { id: 'panel.battery', about, asks: 'Standby battery, in Ah', standard: '7 Ah' },
    'ampHours',
  );
  builder.panel = { enclosure, batteries: [{ capacity, chemistry: 'sealed-lead-acid' }] };
  builder.board = yield choice(
    { id: 'board', about: 'The new board', asks: 'Which one?' },
    ['six-paired', 'six inputs, paired commons'],
    ['eight-paired', 'eight inputs, paired commons'],
    ['twelve-supervised', 'twelve supervised inputs'],
  );
}

function* sounder(builder: SurveyBuilder): Interview {
  const name = yield words({
    id: 'sounder.name',
    about: 'Sounder',
    asks: 'What is it called? (Enter: there is none)',
    standard: '',
  });
  if (name === '') return;
  const length = yield figure({ id: 'sounder.length', about: name, asks: 'Its cable, in metres' }, 'metres');
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
    ['none', 'it has none of them'],
    ['fire', 'fire'],
    ['medical', 'medical'],
    ['panic', 'panic'],
    ['unknown', 'not sure'],
    ['no-keypad', 'there is no keypad'],
  );
  if (keys !== 'no-keypad') {
    const length = yield figure(
      { id: 'keypad.length', about: 'Keypad', asks: 'Its cable, in metres' },
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
  return choice({ id, about, asks }, ['yes', 'yes'], ['no', 'no'], ['unknown', 'not sure']);
}

function presence(id: string, about: string, asks: string): Question {
  return choice({ id, about, asks }, ['none', 'none'], ['present', 'yes'], ['unknown', 'not sure']);
}

/** How far the answers go: the questions they answer, the one that is open, the file as far as it stands. */
export type Progress = {
  readonly asked: readonly Question[];
  readonly open: Question | null;
  readonly fields: Written;
  readonly zones: number;
};

/** Puts the answers to the questions, from the first on, as far as they go. */
export function interview(answers: Answers): Progress {
  const builder = new SurveyBuilder();
  const asking = survey(builder);
  const asked: Question[] = [];
  for (let step = asking.next(); ; ) {
    if (step.done) return { asked, open: null, fields: builder.fields, zones: builder.zoneCount };
    const answer = answers[step.value.id];
    if (answer === undefined)
      return { asked, open: step.value, fields: builder.fields, zones: builder.zoneCount };
    asked.push(step.value);
    step = asking.next(answer);
  }
}
