import type { Action } from '../../job/action.ts';
import { withFieldUnit } from '../../site/field-units.ts';
import { mayOpenGate } from '../../site/opened-gates.ts';
import type { App, Effect } from '../app/state.ts';
import { type Field, fieldsOf } from '../entry/field.ts';
import { LIVE_SOURCE } from '../live/source-form.ts';
import { correctable } from './correctable.ts';
import { DEVIATE } from './deviate.ts';
import { FOUND } from './found.ts';
import { SURVEY_FILE } from './survey-file.ts';
import { HOW_KNOWN, REASONS, text } from './text.ts';

export type FormId =
  | 'shift'
  | 'note'
  | 'photo'
  | 'pause'
  | 'leave'
  | 'away'
  | 'cannot'
  | 'deviate'
  | 'reopen'
  | 'correct'
  | 'found'
  | 'close'
  | 'survey-file'
  | 'live-source'
  | 'carry-on';

/** A form is what an action needs beside the step it is about. */
export type FormDef = {
  readonly title: string;
  readonly says: (app: App, step: string | null) => readonly string[];
  readonly fields: (app: App, step: string | null) => readonly Field[];
  readonly action: (answers: Answers, step: string | null, app: App) => Action;
  /** Where it is no action of the job, but about the job itself. */
  readonly effect?: (app: App, answers: Answers) => Effect;
  /** Only then is the form offered. */
  readonly works?: (app: App, step: string | null) => boolean;
};

type Answers = Readonly<Record<string, string>>;

export const FORMS: Readonly<Record<FormId, FormDef>> = {
  shift: {
    title: 'Who is working?',
    says: () => [
      'The record names who did each thing. A change of person puts the proof of dead in doubt, for nobody should trust another one’s zero.',
      'Zero the meter on its leads: the program takes nothing off.',
    ],
    fields: (app) => [
      text('name', 'Your name', app.job?.persons.slice(0, 6) ?? []),
      text('instrument', 'The meter you use, by name or number', ['The meter of this van', 'My own meter']),
      {
        kind: 'reading',
        id: 'zero',
        label: 'What the meter shows with its leads touched together',
        quantity: 'ohms',
        unit: 'ohm',
        scale: null,
      },
    ],
    action: (answers) => ({
      do: 'start-shift',
      name: answers.name ?? '',
      instrument: answers.instrument ?? '',
      zero: answers.zero ?? '',
    }),
  },
  note: {
    title: 'Note',
    says: (_, step) => [step === null ? 'Kept in the record.' : 'Kept in the record beside this step.'],
    fields: () => [text('text', 'What should be remembered?', [], 1)],
    action: (answers, step) => ({ do: 'note', text: answers.text ?? '', ...(step !== null && { step }) }),
  },
  photo: {
    title: 'Photo',
    says: () => ['The picture is copied into the job’s folder and its digest into the record.'],
    fields: () => [text('path', 'Where is the picture? (path of the file)', [], 1)],
    action: (answers, step) => ({ do: 'photo', path: answers.path ?? '', ...(step !== null && { step }) }),
  },
  pause: {
    title: 'Pause',
    says: () => ['Work stops here for now. Dead has to be proved in full before it goes on.'],
    fields: () => [
      text('reason', 'Why', ['A break', 'A telephone call', 'A part is missing', 'Somebody needs help']),
    ],
    action: (answers) => ({ do: 'pause', reason: answers.reason ?? '' }),
  },
  leave: {
    title: 'Leave for the night',
    says: () => [
      'Before you go: every bare end insulated, the battery covered, the sounder known, the receiving centre’s test time long enough, and somebody told what is unprotected.',
    ],
    fields: (app) => fieldsOf(app.job?.next.leaveNeeds ?? []),
    action: (answers) => ({ do: 'leave', values: answers }),
  },
  away: {
    title: 'Away for a moment',
    says: () => [
      'Back within the time you say, no new proof of dead is asked; later, the short one. 60 min is the longest.',
    ],
    fields: () => [
      text('where', 'Where to', ['To the van', 'To a detector', 'To the occupant']),
      text('forTime', 'For how long', ['5 min', '10 min', '15 min', '30 min']),
    ],
    action: (answers) => ({ do: 'away', where: answers.where ?? '', forTime: answers.forTime ?? '' }),
  },
  cannot: {
    title: 'This step cannot pass',
    says: () => [
      'The step is recorded as failed, in your own word. Nothing is lost: it stays open, and can be done again.',
    ],
    fields: () => [text('reason', 'Why not', REASONS)],
    action: (answers, step) => ({ do: 'fail', step: step ?? '', reason: answers.reason ?? '' }),
    works: (_, step) => step !== null,
  },
  deviate: DEVIATE,
  reopen: {
    title: 'Reopen a step',
    says: (app, step) => reopens(app, step),
    fields: () => [
      text('reason', 'Why', ['It was done wrong', 'It has changed since', 'I want to see it again']),
    ],
    action: (answers, step) => ({ do: 'reopen', step: step ?? '', reason: answers.reason ?? '' }),
    works: (app, step) =>
      step !== null && ['done', 'deviated', 'failed'].includes(app.job?.status[step] ?? ''),
  },
  correct: {
    title: 'Correct the survey',
    says: () => [
      'Says what the survey had wrong; the plan is made again and its difference shown before you adopt it. Old records stay.',
    ],
    fields: (app, step) => [
      text('path', 'Which field (such as zones.z1.loop.resistor)', correctable(app, step), 3),
      text(
        'value',
        `What it is in truth (a bare length is in ${app.settings.units === 'imperial' ? 'feet' : 'metres'})`,
        [],
        1,
      ),
      HOW_KNOWN,
      {
        ...text('seen', 'It may take a gate away: what did you see, and where', [], 8),
        when: { field: 'path', asks: mayOpenGate },
      },
    ],
    action: (answers, _, { settings: { units } }) => ({
      do: 'correct',
      reason: answers.reason ?? '',
      ...(answers.seen ? { seen: answers.seen } : {}),
      set: [
        { path: answers.path ?? '', value: withFieldUnit(answers.path ?? '', answers.value ?? '', units) },
      ],
    }),
  },
  found: FOUND,
  'carry-on': {
    title: 'NOT SAVED: go on in another folder',
    says: ({ unsaved }) => [
      ...(unsaved && unsaved.lost.length > 0 ? ['Not recorded yet, and kept here:', ...unsaved.lost] : []),
      'Every record that was saved is copied there and linked to. The old folder takes no more.',
    ],
    fields: ({ unsaved }) => [
      text('folder', 'Where to? A folder that is not there yet, best on another disk', unsaved?.offers ?? []),
    ],
    action: () => ({ do: 'doubt' }),
    effect: ({ unsaved }, { folder = '' }) => ({ do: 'carry-on', dir: unsaved?.dir ?? '', into: folder }),
  },
  'survey-file': SURVEY_FILE,
  'live-source': LIVE_SOURCE,
  close: {
    title: 'Close the job',
    says: () => ['The record is sealed. Afterwards only notes can be added, in a continuation.'],
    fields: (app) => [
      text('technician', 'Signed for the work by', app.job?.next.personName ? [app.job.next.personName] : []),
      text('customer', 'Signed for the customer by', ['The occupant', 'The caretaker']),
    ],
    action: (answers) => ({
      do: 'close',
      signatures: [
        { name: answers.technician ?? '', role: 'technician' },
        { name: answers.customer ?? '', role: 'customer' },
      ],
    }),
    works: (app) => app.job !== null && !app.job.next.closed && app.job.next.closeNeeds.length === 0,
  },
};

function reopens(app: App, step: string | null): readonly string[] {
  const { job } = app;
  if (!job || step === null) return [];
  const reached = new Set([step, ...(job.dependents.get(step) ?? [])]);
  const done = job.steps.filter(
    (one) => reached.has(one.id) && ['done', 'deviated'].includes(job.status[one.id] ?? ''),
  );
  return [
    `This reopens ${done.length === 1 ? 'this step alone' : `${done.length} steps`}; their records stay.`,
    ...done.map((one) => `  ${one.title}`),
  ];
}
