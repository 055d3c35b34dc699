import { applyCorrection, type Change } from '../../site/correct-survey.ts';
import { ALL_JOBS, type App, type Effect, type Turn, withTop } from '../app/state.ts';
import type { Key } from '../keys/key.ts';
import { type Answers, choice, type Question } from '../survey/question.ts';
import { settleTyped, typingKey } from '../survey/typing.ts';
import { adding } from './add.ts';
import { valuesOf } from './fields.ts';
import { type Adding, placesOf, type Row, rowsOf } from './places.ts';
import { type Removing, removal, removalQuestion } from './remove.ts';
import { siteOf } from './site.ts';

/** What has the keys beside the rows: a field that is changed, something that is added, the end. */
type Asking =
  | { readonly kind: 'field'; readonly row: number }
  | { readonly kind: 'add'; readonly adding: Adding; readonly zone: string | null; readonly answers: Answers }
  | { readonly kind: 'remove'; readonly removing: Removing }
  | { readonly kind: 'finish' };

/** A survey file that is changed, place by place. `place`: the one that is open; null where they are all listed. */
export type EditScreen = {
  readonly kind: 'edit';
  readonly file: string;
  /** As the file stood when it was opened, and as it is to be. */
  readonly original: string;
  readonly text: string;
  readonly place: string | null;
  /** The row in hand of the places, and of the place that is open. */
  readonly placeAt: number;
  readonly at: number;
  readonly asking: Asking | null;
  readonly typed: string;
  readonly says: string | null;
  readonly findings: readonly string[];
};

/** What is kept of a survey while it is changed, so that a kill loses nothing. */
export type EditDraft = Pick<EditScreen, 'original' | 'text'> & {
  readonly asking: Asking | null;
  readonly place: string | null;
};

/** The survey editor on a file, where its draft was left. */
export function editScreen(file: string, draft: EditDraft): EditScreen {
  const placeAt = placesIn(draft.text).findIndex(({ id }) => id === draft.place);
  return {
    kind: 'edit',
    file,
    ...draft,
    placeAt: Math.max(0, placeAt),
    at: 0,
    typed: '',
    says: null,
    findings: [],
  };
}

/** The places of a survey text that can be changed; none while it cannot be read. */
export function placesIn(text: string): ReturnType<typeof placesOf> {
  const site = siteOf(text);
  return site ? placesOf(site) : [];
}

/** What can be changed at the place that is open. */
export function rowsIn({ text, place }: EditScreen): readonly Row[] {
  const site = siteOf(text);
  return site && place !== null ? rowsOf(site, place) : [];
}

const FINISH: Question = choice(
  { id: 'finish', about: 'The survey as it is now', asks: 'What now?' },
  ['open', 'save it, and open a job on it'],
  ['save', 'save it only'],
  ['drop', 'give up what was changed: the file stays as it is'],
  ['back', 'go on changing'],
);

/** The question that has the keys; null where the rows have them. */
export function askedIn(screen: EditScreen): Question | null {
  const { asking } = screen;
  if (asking === null) return null;
  if (asking.kind === 'finish') return FINISH;
  if (asking.kind === 'field') {
    const row = rowsIn(screen)[asking.row];
    return row?.kind === 'field' ? row.question : null;
  }
  const site = siteOf(screen.text);
  if (asking.kind === 'remove') return site && removalQuestion(site, asking.removing);
  return site && adding(site, asking.adding, asking.zone, asking.answers).open;
}

/** A key on the screen; null where it has no use for it. */
export function editKey(app: App, screen: EditScreen, key: Key): Turn | null {
  const question = askedIn(screen);
  if (question !== null) return questionKey(app, screen, question, key);
  const rows = screen.place === null ? placesIn(screen.text) : rowsIn(screen);
  const at = screen.place === null ? screen.placeAt : screen.at;
  if (key.name === 'enter' || key.name === 'right') return key.pasted ? [app, []] : take(app, screen);
  const page = Math.max(1, app.size.rows - 9);
  const by = { up: -1, down: 1, 'page-up': -page, 'page-down': page, home: -rows.length, end: rows.length }[
    key.name as string
  ];
  if (by === undefined) return null;
  const to = Math.min(rows.length - 1, Math.max(0, at + by));
  const moved =
    screen.place === null ? { ...screen, placeAt: to } : { ...screen, at: besideHead(screen, to, by) };
  return [withTop(app, moved), []];
}

// A heading is passed over, in the direction of the move.
function besideHead(screen: EditScreen, to: number, by: number): number {
  const rows = rowsIn(screen);
  if (rows[to]?.kind !== 'head') return to;
  const beyond = to + Math.sign(by);
  return rows[beyond] ? beyond : screen.at;
}

/** Opens what is in hand: a place, a field, what is to be added, the end. */
function take(app: App, screen: EditScreen): Turn {
  const opened = { ...screen, typed: '', says: null };
  if (screen.place === null) {
    const place = placesIn(screen.text)[screen.placeAt]?.id ?? null;
    if (place === 'finish')
      return [withTop({ ...app, notice: null }, { ...opened, asking: { kind: 'finish' } }), []];
    const asking =
      place === 'add zone' ? ({ kind: 'add', adding: 'zone', zone: null, answers: {} } as const) : null;
    const at = place === null ? 0 : Math.max(0, firstRow({ ...screen, place }));
    return [withTop({ ...app, notice: null }, asking ? { ...opened, asking } : { ...opened, place, at }), []];
  }
  const row = rowsIn(screen)[screen.at];
  if (row?.kind === 'add') {
    const zone = screen.place.startsWith('zone ') ? screen.place.slice('zone '.length) : null;
    return [withTop(app, { ...opened, asking: { kind: 'add', adding: row.adding, zone, answers: {} } }), []];
  }
  if (row?.kind === 'remove')
    return [withTop(app, { ...opened, asking: { kind: 'remove', removing: row.removing } }), []];
  return [
    row?.kind === 'field' ? withTop(app, { ...opened, asking: { kind: 'field', row: screen.at } }) : app,
    [],
  ];
}

function firstRow(screen: EditScreen): number {
  return rowsIn(screen).findIndex(({ kind }) => kind !== 'head');
}

function questionKey(app: App, screen: EditScreen, question: Question, key: Key): Turn | null {
  const typing = typingKey(question, screen.typed, key);
  if (typing === null) return key.name === 'left' || key.name === 'up' ? stepBack(app, screen) : null;
  if (!typing.isAnswer) return [withTop(app, { ...screen, typed: typing.typed, says: null }), []];
  const settled = settleTyped(question, typing.typed, undefined, app.settings.units);
  if (!settled.ok) return [withTop(app, { ...screen, typed: '', says: settled.says }), []];
  const { asking } = screen;
  if (asking?.kind === 'finish') return finish(app, screen, settled.value);
  if (asking?.kind === 'field') return changeField(app, screen, asking.row, settled.value);
  if (asking?.kind === 'add') return goOnAdding(app, screen, asking, question, settled.value);
  if (asking?.kind === 'remove') return takeOut(app, screen, asking.removing, settled.value);
  return null;
}

/** Out of a question, one answer of what is added at a time; out of a place, to the places. */
export function stepBack(app: App, screen: EditScreen): Turn {
  const { asking } = screen;
  const quiet = { ...screen, typed: '', says: null };
  if (asking?.kind === 'add') {
    const given = Object.entries(asking.answers);
    if (given.length > 0)
      return kept(app, { ...quiet, asking: { ...asking, answers: Object.fromEntries(given.slice(0, -1)) } });
  }
  if (asking !== null) return kept(app, { ...quiet, asking: null });
  return [withTop(app, { ...quiet, place: null }), []];
}

function changeField(app: App, screen: EditScreen, at: number, answer: string): Turn {
  const row = rowsIn(screen)[at];
  if (row?.kind !== 'field') return [app, []];
  if (answer === row.held) return kept(app, { ...screen, asking: null, typed: '', says: null });
  const changes = valuesOf(row.def, answer).map(([field, value]) => ({
    path: row.base === '' ? field : `${row.base}.${field}`,
    value,
  }));
  return changed(app, screen, changes, {});
}

function goOnAdding(
  app: App,
  screen: EditScreen,
  asking: Extract<Asking, { kind: 'add' }>,
  { id }: Question,
  answer: string,
): Turn {
  const site = siteOf(screen.text);
  if (!site) return [app, []];
  const answers = { ...asking.answers, [id]: answer };
  const added = adding(site, asking.adding, asking.zone, answers);
  if (added.open !== null)
    return kept(app, { ...screen, asking: { ...asking, answers }, typed: '', says: null });
  if (added.changes.length === 0) return kept(app, { ...screen, asking: null, typed: '', says: null });
  return changed(app, screen, added.changes, { place: added.place });
}

function takeOut(app: App, screen: EditScreen, removing: Removing, answer: string): Turn {
  const site = siteOf(screen.text);
  if (!site || answer !== 'remove') return kept(app, { ...screen, asking: null, typed: '', says: null });
  const { changes } = removal(site, removing);
  return changed(app, screen, changes, { at: 0 });
}

/** The text with changes, where it can be read with them; else why not, and the question stays. */
function changed(app: App, screen: EditScreen, changes: readonly Change[], then: Partial<EditScreen>): Turn {
  const corrected = applyCorrection(screen.text, changes, screen.file);
  if (!corrected.ok) {
    const [problem] = corrected.problems;
    const says = problem
      ? `${problem.field}: ${problem.says} Accepted: ${problem.accepts}.`
      : 'That cannot be.';
    return [withTop(app, { ...screen, typed: '', says }), []];
  }
  const after = { ...screen, ...then, text: corrected.text, asking: null, typed: '', says: null };
  const places = placesIn(after.text);
  const placeAt = places.findIndex(({ id }) => id === after.place);
  // What was taken out may have been the last of its place: then the places are listed again.
  const held =
    placeAt < 0
      ? { ...after, place: null, placeAt: Math.min(after.placeAt, places.length - 1) }
      : { ...after, placeAt };
  const [next, effects] = kept(app, held);
  return [next, [...effects, { do: 'check-survey', text: after.text, file: screen.file }]];
}

function kept(app: App, screen: EditScreen): Turn {
  const { file, original, text, asking, place } = screen;
  const draft = { original, text, asking: asking?.kind === 'add' ? asking : null, place };
  const keep: Effect = {
    do: 'keep-edit',
    file,
    draft: text === original && draft.asking === null ? null : draft,
  };
  return [withTop({ ...app, notice: null }, screen), [keep]];
}

function finish(app: App, screen: EditScreen, what: string): Turn {
  const { file, original, text } = screen;
  const shut = withTop(app, { ...screen, asking: null, typed: '', says: null });
  if (what === 'back') return [shut, []];
  if (what === 'drop')
    return [
      shut,
      [
        { do: 'keep-edit', file, draft: null },
        { do: 'list-jobs', wanted: ALL_JOBS },
      ],
    ];
  return [shut, [{ do: 'save-edit', file, original, text, open: what === 'open' }]];
}
