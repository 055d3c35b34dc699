import { type SaidOfAct, WENT, type Went } from '../../job/acts-done.ts';
import { actKey, sayActDone } from '../../procedure/act-words.ts';
import type { Act } from '../../wiring/act.ts';
import type { App } from '../app/state.ts';
import type { ChoiceField } from '../entry/field.ts';
import type { FormDef } from './forms.ts';
import { REASONS, text } from './text.ts';

const HOW_FAR = 'how-far';
const PART = 'part';

const GIVEN_UP: Readonly<Record<string, Went>> = { nothing: 'not-done', all: 'done', unknown: 'unknown' };

const WORDS: Readonly<Record<Went, string>> = {
  done: 'Done',
  'not-done': 'Not done',
  unknown: 'I cannot tell',
};

/** A step is given up, and it is said how far it was done: what comes later is worked out from how it stands. */
export const DEVIATE: FormDef = {
  title: 'Deviate from this step',
  says: () => [
    'Only a soft step can be deviated from. Your name, the reason and what risk remains stand first in the handover.',
  ],
  fields: (app, step) => [
    text('reason', 'Why', REASONS),
    text('residualRisk', 'What risk remains', [
      'None that I can see',
      'This circuit is not proved',
      'Somebody must come back',
    ]),
    ...howFar(actsOf(app, step)),
  ],
  action: (answers, step, app) => {
    const acts = actsOf(app, step);
    return {
      do: 'deviate',
      step: step ?? '',
      reason: answers.reason ?? '',
      residualRisk: answers.residualRisk ?? '',
      ...(acts.length > 0 && { acts: acts.map((act) => said(act, answers)) }),
    };
  },
  works: (app, step) => app.job?.next.open.some((open) => open.id === step && !open.hard) ?? false,
};

function actsOf({ job }: App, step: string | null): readonly Act[] {
  return job?.steps.find(({ id }) => id === step)?.acts ?? [];
}

function howFar(acts: readonly Act[]): ChoiceField[] {
  const [first] = acts;
  if (first === undefined) return [];
  if (acts.length === 1) return [askAct(first)];
  const all: ChoiceField = {
    kind: 'choice',
    id: HOW_FAR,
    label: 'How far was it done?',
    options: [
      { id: 'nothing', label: 'Nothing of it' },
      { id: 'all', label: 'All of it: only the proof is given up' },
      { id: PART, label: 'Some of it: I say which' },
      { id: 'unknown', label: 'I cannot tell' },
    ],
  };
  return [all, ...acts.map((act) => ({ ...askAct(act), when: { field: HOW_FAR, is: PART } }))];
}

function askAct(act: Act): ChoiceField {
  const done = sayActDone(act);
  const label = `${done.charAt(0).toUpperCase()}${done.slice(1)}: is that so?`;
  return { kind: 'choice', id: actKey(act), label, options: WENT.map((id) => ({ id, label: WORDS[id] })) };
}

function said(act: Act, answers: Readonly<Record<string, string>>): SaidOfAct {
  const key = actKey(act);
  return { act: key, how: GIVEN_UP[answers[HOW_FAR] ?? PART] ?? (answers[key] as Went) };
}
