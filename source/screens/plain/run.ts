import type { Acted, Action } from '../../job/action.ts';
import { sayTrouble } from '../../job/way-on.ts';
import { JournalError } from '../../journal/error.ts';
import { type App, FIRST_SCREEN, NO_JOBS, type OpenJob } from '../app/state.ts';
import { CHALLENGE_FIELD } from '../challenge/screen.ts';
import { isFieldAsked } from '../entry/asked.ts';
import { fieldsOf, valuesOf } from '../entry/field.ts';
import { FORMS, type FormId } from '../form/forms.ts';
import type { JobPort } from '../port.ts';
import { DEFAULT_SETTINGS } from '../settings.ts';
import { askedProofs } from '../step/asked-proofs.ts';
import { isHalfSaid, nextOpen, stepOf } from '../step/state.ts';
import { shownRow } from '../terminal/shown-text.ts';
import { SUPPLY_WORDS } from '../words.ts';
import { ask, type Dialogue } from './dialogue.ts';
import { briefingLines, cardLines } from './lines.ts';

const FORM_WORDS: Readonly<Record<string, FormId>> = {
  shift: 'shift',
  note: 'note',
  photo: 'photo',
  cannot: 'cannot',
  pause: 'pause',
  leave: 'leave',
  away: 'away',
  deviate: 'deviate',
  reopen: 'reopen',
  correct: 'correct',
  found: 'found',
  close: 'close',
};

const HELP = [
  'Answer each question on a line of its own; a choice by its number.',
  'Words with a stroke before them do something else:',
  '/steps all open steps; /go NUMBER work on one of them; /doubt I doubt that it is dead;',
  '/note /photo /cannot /pause /leave /away /deviate /reopen STEP /correct /found /shift /history /quit',
];

type Going = { readonly to: string | null } | 'end';

/**
 * The same job, question and answer, line by line: for a screen reader, a dumb terminal or a serial line.
 *
 * @returns the program's exit code
 */
export async function runPlain(port: JobPort, { say: sayLine, hear }: Dialogue): Promise<number> {
  const say = (line: string) => sayLine(shownRow(line));
  const dialogue: Dialogue = { say, hear };
  for (const line of briefingLines(port)) say(line);
  say('Type /help for what else can be said.');
  let at: string | null = null;
  let isSaid = false;
  for (;;) {
    const job = lookAt(port);
    if (job.next.closed) {
      say(`The job is closed. Its record stands in ${port.dir}.`);
      return 0;
    }
    isSaid ||= job.next.person === null;
    const going: Going | 'same' = isSaid
      ? await oneCard(port, job, at, dialogue)
      : await whoIsThere(port, job, dialogue);
    if (going === 'end') return 0;
    if (going === 'same') isSaid = true;
    else at = going.to;
  }
}

// Who works is said, never taken for granted: whoever comes back may be somebody else, and proves dead anew.
async function whoIsThere(port: JobPort, job: OpenJob, dialogue: Dialogue): Promise<Going | 'same'> {
  const name = job.next.personName ?? job.next.person ?? '';
  const heard = await ask(
    {
      kind: 'choice',
      id: 'who',
      label: `Who is there: ${name}, or somebody else?`,
      options: [
        { id: 'same', label: `It is ${name}` },
        { id: 'other', label: 'It is somebody else' },
      ],
    },
    dialogue,
  );
  if (heard.is === 'end') return 'end';
  if (heard.is === 'word') return said(port, job, null, heard.word, heard.rest, dialogue);
  if (heard.text === 'same') return 'same';
  return form(port, job, 'shift', null, dialogue);
}

async function oneCard(port: JobPort, job: OpenJob, at: string | null, dialogue: Dialogue): Promise<Going> {
  if (job.next.person === null) return form(port, job, 'shift', null, dialogue);
  const open = job.next.open.find((step) => step.id === at) ?? nextOpen(job);
  if (open === null) {
    if (job.next.closeNeeds.length === 0) return form(port, job, 'close', null, dialogue);
    dialogue.say('No step is open now.');
    for (const need of job.next.closeNeeds) dialogue.say(`  ${need}`);
    return (await word(port, job, null, dialogue)) ?? 'end';
  }
  const step = stepOf(job, open.id);
  if (isHalfSaid(step)) tell(port, { do: 'begin', step: open.id }, dialogue, job);
  for (const line of cardLines(job, open.id)) dialogue.say(line);
  const answers: Record<string, string> = {};
  const fields = fieldsOf(step ? askedProofs(job, step) : open.proof);
  for (const [index, field] of fields.entries()) {
    if (!isFieldAsked(fields, index, (id) => answers[id])) continue;
    const heard = await ask(field, dialogue, { fields, answers });
    if (heard.is === 'end') return 'end';
    if (heard.is === 'word') return said(port, job, open.id, heard.word, heard.rest, dialogue);
    answers[field.id] = heard.text;
  }
  const action: Action = { do: 'confirm', step: open.id, values: valuesOf(open.proof, answers) };
  return settle(port, action, dialogue);
}

async function settle(port: JobPort, action: Action, dialogue: Dialogue): Promise<Going> {
  const acted = act(port, action, dialogue);
  if (acted === null) return { to: null };
  if (!('challenge' in acted)) {
    report(acted, action, dialogue);
    const failed = 'outcome' in acted && acted.outcome === 'failed';
    return { to: failed && 'step' in action ? (action.step ?? null) : null };
  }
  dialogue.say(acted.says);
  const heard = await ask(CHALLENGE_FIELD, dialogue);
  if (heard.is === 'end') return 'end';
  if (heard.is !== 'answer' || heard.text !== 'so')
    return { to: 'step' in action ? (action.step ?? null) : null };
  return settle(port, { ...action, acknowledge: [...(action.acknowledge ?? []), acted.challenge] }, dialogue);
}

async function form(
  port: JobPort,
  job: OpenJob,
  id: FormId,
  step: string | null,
  dialogue: Dialogue,
): Promise<Going> {
  const app = appWith(job);
  const def = FORMS[id];
  if (!(def.works?.(app, step) ?? true)) {
    dialogue.say('That cannot be done now.');
    return { to: step };
  }
  for (const line of [def.title, ...def.says(app, step)]) dialogue.say(line);
  const answers: Record<string, string> = {};
  const fields = def.fields(app, step);
  for (const [index, field] of fields.entries()) {
    if (!isFieldAsked(fields, index, (id) => answers[id])) continue;
    const heard = await ask(field, dialogue);
    if (heard.is === 'end') return 'end';
    if (heard.is === 'word') return heard.word === 'quit' ? 'end' : { to: step };
    answers[field.id] = heard.text;
  }
  const action = def.action(answers, step, app);
  if (action.do === 'correct') {
    for (const line of port.previewCorrection(action.set)) dialogue.say(`  ${line}`);
    const heard = await ask({ ...CHALLENGE_FIELD, label: 'Adopt it?' }, dialogue);
    if (heard.is !== 'answer' || heard.text !== 'so') return heard.is === 'end' ? 'end' : { to: step };
  }
  const going = await settle(port, action, dialogue);
  return going === 'end' ? going : { to: step };
}

async function word(
  port: JobPort,
  job: OpenJob,
  step: string | null,
  dialogue: Dialogue,
): Promise<Going | null> {
  const line = await dialogue.hear();
  if (line === null) return null;
  const [, name = '', rest = ''] = /^\/?(\S*)\s*(.*)$/.exec(line.trim()) ?? [];
  return said(port, job, step, name.toLowerCase(), rest, dialogue);
}

async function said(
  port: JobPort,
  job: OpenJob,
  step: string | null,
  name: string,
  rest: string,
  dialogue: Dialogue,
): Promise<Going> {
  const id = FORM_WORDS[name];
  if (id) return form(port, job, id, id === 'reopen' && rest !== '' ? rest : step, dialogue);
  switch (name) {
    case 'quit':
      return 'end';
    case 'doubt':
      tell(port, { do: 'doubt' }, dialogue, job);
      return { to: null };
    case 'steps':
      job.next.open.forEach((open, index) => {
        dialogue.say(`  ${index + 1} ${open.title}`);
      });
      return { to: step };
    case 'go':
      return { to: job.next.open[Number(rest) - 1]?.id ?? step };
    case 'history':
      for (const row of port.history({})) dialogue.say(`  ${row.n} ${row.at} ${row.says}`);
      return { to: step };
    default:
      for (const line of HELP) dialogue.say(line);
      return { to: step };
  }
}

// Opening a card and doubting are no questions: what is refused is told, and the work goes on.
function tell(port: JobPort, action: Action, dialogue: Dialogue, job: OpenJob): void {
  if (action.do === 'begin' && job.status[action.step] !== 'open') return;
  const acted = act(port, action, dialogue);
  if (acted && action.do !== 'begin') report(acted, action, dialogue);
}

function act(port: JobPort, action: Action, dialogue: Dialogue): Acted | null {
  try {
    return port.act(action);
  } catch (error) {
    if (!(error instanceof JournalError)) throw error;
    dialogue.say(sayTrouble(error));
    return null;
  }
}

function report(acted: Acted, action: Action, { say }: Dialogue): void {
  if ('malformed' in acted) say(acted.malformed);
  else if ('refused' in acted) for (const line of [acted.refused, ...acted.because]) say(line);
  else if ('outcome' in acted) {
    const passed = acted.outcome !== 'failed';
    say(passed ? `Recorded (${action.do}).` : 'Recorded, and it does not pass.');
    for (const line of acted.told ?? []) say(`  ${line}`);
    if (acted.causes.length > 0) say('What may be behind it:');
    if (passed && acted.causes.length > 0)
      say('It is not as expected: read again (/reopen STEP) first. What may be behind it:');
    for (const cause of acted.causes) say(`  ${cause.says} ${cause.try}`);
    say(`Supply: ${SUPPLY_WORDS[acted.next.supply].says.toLowerCase()}.`);
  }
}

function lookAt(port: JobPort): OpenJob {
  return { id: port.id, dir: port.dir, ...port.look() };
}

function appWith(job: OpenJob): App {
  return {
    size: { columns: 80, rows: 24 },
    settings: DEFAULT_SETTINGS,
    linear: true,
    jobs: NO_JOBS,
    surveys: [],
    job,
    stack: [FIRST_SCREEN],
    causes: {},
    drafts: {},
    notice: null,
    exit: null,
  };
}
