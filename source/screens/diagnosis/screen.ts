import { tellFailures } from '../../job/told.ts';
import { type JudgedField, judgeProof } from '../../procedure/judge.ts';
import type { Step } from '../../procedure/step.ts';
import { foot, jobHead, noticeLines } from '../app/chrome.ts';
import { keepDraft } from '../app/drafts.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, type DiagnosisScreen, type OpenJob, pop, type Turn, withTop } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapMarked, wrapped } from '../draw/wrap.ts';
import { valuesOf } from '../entry/field.ts';
import { answersOf, asKept, type Entry } from '../entry/state.ts';
import { keptAnswers } from '../entry/verdict.ts';
import { answered } from '../entry/view.ts';
import { workingRows } from '../keys/table.ts';
import { answersGiven, isMeasured, judgedOf } from '../step/answers-given.ts';
import { goToStep, nextOpen, provesDead, stepOf } from '../step/state.ts';

type Seen = { readonly app: App; readonly screen: DiagnosisScreen };
const stands = ({ screen }: Seen) => screen.stands;
const owed = ({ screen }: Seen) => !screen.stands;
const offered = ({ app, screen }: Seen) => app.job !== null && isOffered(app.job, screen.step);
const measured = ({ app, screen }: Seen) => {
  const step = app.job && stepOf(app.job, screen.step);
  return step ? isMeasured(step) : false;
};

/** Whether a voltage was read at which hands come off. */
const handsOff = ({ app, screen }: Seen) => {
  const step = app.job && stepOf(app.job, screen.step);
  return app.job !== null && step !== null && step !== undefined && isHandsOff(app.job, step);
};

/** What does not fit, what may be behind it, the likeliest first, and what to try. */
export const DIAGNOSIS: ScreenDef<DiagnosisScreen> = {
  keys: [
    {
      keys: ['1', 'r'],
      does: 'again',
      says: 'read again',
      foot: true,
      works: (s) => stands(s) && measured(s),
    },
    {
      keys: ['1', 'r'],
      does: 'again',
      says: 'answer again',
      foot: true,
      works: (s) => stands(s) && !measured(s),
    },
    { keys: ['2'], does: 'go-on', says: 'go on: it stands as it was read', foot: true, works: stands },
    {
      keys: ['1', 'r', 'left', 'escape'],
      does: 'back',
      says: 'read again',
      foot: true,
      works: (s) => owed(s) && offered(s) && measured(s) && !handsOff(s),
    },
    {
      keys: ['1', 'r', 'left', 'escape'],
      does: 'back',
      says: 'it is made safe, or was mistyped',
      foot: true,
      works: (s) => owed(s) && offered(s) && handsOff(s),
    },
    {
      keys: ['1', 'left', 'escape'],
      does: 'back',
      says: 'back to the question',
      foot: true,
      works: (s) => owed(s) && offered(s) && !measured(s),
    },
    {
      keys: ['1', 'left', 'escape'],
      does: 'back',
      says: 'to what comes first now',
      foot: true,
      works: (s) => owed(s) && !offered(s),
    },
    { keys: ['enter'], does: 'enter', says: 'next page; on the last one, back', foot: false, works: owed },
    { keys: ['enter'], does: 'enter', says: 'next page', foot: false, works: stands },
    { keys: ['page-down', 'down'], does: 'page-down', says: 'next page', foot: false, works: turns },
    { keys: ['page-up', 'up'], does: 'page-up', says: 'page before', foot: false, works: turns },
    {
      keys: ['g'],
      does: 'search',
      says: 'rehearsal: go and look',
      foot: true,
      works: ({ app }) => app.job?.rehearsal === true,
    },
    { keys: ['7', '?'], does: 'help', says: 'all keys', foot: true },
    { keys: ['n'], does: 'note', says: 'note', foot: true },
    { keys: ['k'], does: 'correct', says: 'correct the survey', foot: true },
    { keys: ['c'], does: 'cannot', says: 'cannot', foot: true, works: owed },
    { keys: ['tab', 'right'], does: 'menu', says: 'more', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, screen, command, turn) => {
    const isLast = turn.at === turn.of - 1;
    switch (command) {
      case 'page-down':
        return turned(app, screen, turn.at + 1);
      case 'page-up':
        return turned(app, screen, turn.at - 1);
      case 'enter':
        if (!isLast) return turned(app, screen, turn.at + 1);
        return screen.stands ? [pressOne(app), []] : leave(app, screen);
      case 'back':
        return leave(app, screen);
      case 'go-on':
        return goToStep(pop(app), app.job ? (nextOpen(app.job)?.id ?? null) : null);
      case 'again':
        return readAgain(app, screen);
      default:
        return null;
    }
  },
  view: (app, screen, room) => ({
    head: jobHead(app, room),
    body: bodyOf(app, screen, room),
    pinned: [],
    low: noticeLines(app, room),
    foot: foot(workingRows(DIAGNOSIS.keys, { app, screen }), room),
    page: screen.page,
    turnedBy: 'Enter turns',
  }),
};

function isOffered(job: OpenJob, step: string): boolean {
  return job.next.open.some(({ id }) => id === step);
}

// A reading that met a voltage shuts the step it was read in: isolating and proving dead come first.
function leave(app: App, screen: DiagnosisScreen): Turn {
  const under = pop(app);
  if (!app.job || isOffered(app.job, screen.step)) return [under, []];
  return goToStep(under, nextOpen(app.job)?.id ?? null);
}

function turns({ turn }: { readonly turn?: { readonly of: number } }): boolean {
  return (turn?.of ?? 1) > 1;
}

function turned(app: App, screen: DiagnosisScreen, page: number): Turn {
  return [withTop(app, { ...screen, page }), []];
}

function pressOne(app: App): App {
  return { ...app, notice: { tone: 'caution', says: 'Press 1 to read again, or 2 to go on.', more: [] } };
}

// A step that is recorded is reopened to be read again; what was right in it is not typed again.
function readAgain(app: App, screen: DiagnosisScreen): Turn {
  const step = app.job && stepOf(app.job, screen.step);
  if (!app.job || !step) return [app, []];
  const right = asKept(keptAnswers(answersGiven(app.job, step), provesDead(step)));
  const [kept, effects] = keepDraft(app, 'step', step.id, right);
  const action = { do: 'reopen', step: step.id, reason: 'Read again: it was not as expected' } as const;
  return [kept, [...effects, { do: 'act', action }]];
}

function bodyOf(app: App, screen: DiagnosisScreen, room: Room): readonly Line[] {
  const step = app.job && stepOf(app.job, screen.step);
  if (!app.job || !step) return [];
  const given = answersGiven(app.job, step);
  const tried = screen.stands || app.causes[screen.step] !== undefined;
  const odd = tried ? judgedOf(given).odd : [];
  const causes = screen.causes.flatMap((cause, index): readonly Line[] => [
    ...wrapMarked({ text: `${index + 1} `, tone: 'focus', bold: true }, cause.says, room.columns, {
      bold: true,
    }),
    ...wrapMarked({ text: `  ${room.glyphs.forth} ` }, cause.try, room.columns),
  ]);
  const told = tried && !screen.stands ? toldOf(app.job, step, given) : [];
  const likely = [[{ text: 'It may be, the likeliest first:' }], ...causes];
  return [
    [{ text: titleOf(app.job, step, screen.stands, tried), bold: true }],
    ...wrapped(step.title, room.columns, { tone: 'quiet' }),
    ...(told.length > 0
      ? told.flatMap((says) =>
          wrapMarked({ text: `${room.glyphs.failed} `, tone: 'bad' }, says, room.columns),
        )
      : odd.flatMap((index) => wrapRow(answered(given, index, room), room))),
    EMPTY,
    ...(causes.length > 0
      ? likely
      : told.length > 0
        ? []
        : wrapped(nothingKnown(tried, isMeasured(step)), room.columns)),
  ];
}

/** Each answer of the last try that does not pass, with what follows from it: the words that the record's answer has. */
function toldOf(job: OpenJob, step: Step, given: Entry): readonly string[] {
  const proof = proofOf(job, step);
  return tellFailures({ proof }, valuesOf(proof, answersOf(given)), judgedAgain(job, step, given));
}

function judgedAgain(job: OpenJob, step: Step, given: Entry): readonly JudgedField[] {
  const proof = proofOf(job, step);
  const judged = judgeProof({ proof }, valuesOf(proof, answersOf(given)));
  return judged.ok ? judged.fields : [];
}

function proofOf(job: OpenJob, step: Step): Step['proof'] {
  return job.next.open.find(({ id }) => id === step.id)?.proof ?? step.proof;
}

function isHandsOff(job: OpenJob, step: Step): boolean {
  return judgedAgain(job, step, answersGiven(job, step)).some(({ fall }) => fall.is === 'beyond-stop');
}

/** A voltage where none may be, and no second reading that would tell it from an induced one. */
function isNotDead(job: OpenJob, step: Step): boolean {
  return judgedAgain(job, step, answersGiven(job, step)).some(({ field, fall }) => {
    const proof = step.proof.find((one) => one.field === field);
    const isSweep = proof?.kind === 'sweep' && proof.of !== 'ohms' && proof.rereadAs === undefined;
    return isSweep && (fall.is === 'met' || fall.is === 'beyond-stop');
  });
}

function wrapRow([mark, ...rest]: Line, room: Room): readonly Line[] {
  const says = rest.map(({ text }) => text).join('');
  return mark ? wrapMarked(mark, says, room.columns) : [];
}

function titleOf(job: OpenJob, step: Step, stands: boolean, tried: boolean): string {
  if (!tried) return 'What may be behind it';
  if (stands) return 'Recorded, and not as expected: read again first';
  if (isHandsOff(job, step)) return 'Does not pass: hands off until it is made safe';
  if (!isOffered(job, step.id)) return 'Does not pass: this step waits until it is made safe';
  if (isNotDead(job, step)) return 'Recorded, and it is not dead: find what feeds it first';
  return isMeasured(step)
    ? 'Recorded, and it does not pass: read again first'
    : 'Recorded, and it does not pass';
}

function nothingKnown(tried: boolean, isReading: boolean): string {
  if (!tried) {
    return 'Nothing has been read here that does not fit. If you are not sure what is meant, look at the plan, note what is odd, or pause and find out first.';
  }
  return isReading
    ? 'Nothing that the plan knows explains it. Look at what is connected, zero the leads and read again; note what is odd.'
    : 'You may not go on until this can be answered otherwise. Note what is so, or pause and find out first.';
}
