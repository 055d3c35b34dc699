import type { Acted, Action } from '../../job/action.ts';
import { challengeScreen } from '../challenge/screen.ts';
import { asKept } from '../entry/state.ts';
import { keptAnswers } from '../entry/verdict.ts';
import { goToStep, nextOpen, provesDead, stepOf, stepScreen } from '../step/state.ts';
import { SUPPLY_WORDS } from '../words.ts';
import { dropDraft, keepDraft } from './drafts.ts';
import { type App, type Cause, type Notice, pop, push, type Turn, top, withTop } from './state.ts';

/** Where to go once an action was answered. */
export function afterAct(app: App, action: Action, acted: Acted): Turn {
  if ('malformed' in acted) return notTaken(app, acted.malformed);
  if ('refused' in acted) {
    const [first, ...more] = acted.because;
    return [{ ...stillThere(app), notice: { tone: 'bad', says: first ?? acted.refused, more } }, []];
  }
  if ('challenge' in acted) return [push(app, challengeScreen(action, acted.challenge, acted.says)), []];
  if (action.do === 'begin') return [app, []];
  if (action.do === 'confirm') return afterConfirm(app, action.step, acted);
  return afterForm(app, action, acted);
}

// The answer that cannot be taken has the keys again, and what is typed there takes its place.
function notTaken(app: App, malformed: string): Turn {
  const [, field = '', says = malformed] = /^([\w./-]+): ([\s\S]+)$/.exec(malformed) ?? [];
  const screen = top(app);
  const at = screen.kind === 'step' ? screen.entry.fields.findIndex(({ id }) => id === field) : -1;
  if (screen.kind !== 'step' || at < 0)
    return [{ ...app, notice: { tone: 'bad', says: malformed, more: [] } }, []];
  const there = withTop(app, { ...screen, entry: { ...screen.entry, at, isGoneTo: true } });
  return [{ ...there, notice: { tone: 'bad', says, more: [] } }, []];
}

function afterConfirm(app: App, step: string, acted: Extract<Acted, { outcome: string }>): Turn {
  const title = app.job?.steps.find((one) => one.id === step)?.title ?? step;
  const { [step]: _, ...causes } = app.causes;
  if (top(app).kind === 'tour' && acted.outcome !== 'failed') {
    const [told, dropped] = dropDraft({ ...app, causes }, 'step', step);
    return [{ ...told, notice: { tone: 'good', says: `Recorded: ${title}`, more: [] } }, [dropped].flat()];
  }
  if (acted.outcome === 'failed') return afterFailure({ ...app, causes }, step, acted.causes);
  const [cleared, dropped] = dropDraft({ ...app, causes }, 'step', step);
  if (acted.causes.length > 0) {
    // The screen stays with what was read, until it is said whether that is to stand.
    const seen = { kind: 'diagnosis', step, causes: acted.causes, stands: true, page: 0 } as const;
    return [push({ ...cleared, notice: null }, seen), dropped];
  }
  const notice: Notice = { tone: 'good', says: `Recorded: ${title}`, more: [] };
  return andThen([{ ...cleared, notice }, dropped], (at) => goOn(at));
}

// What was right is not typed again: it waits as a draft, to be confirmed.
function afterFailure(app: App, step: string, causes: readonly Cause[]): Turn {
  const screen = top(app);
  const proves = provesDead(stepOf(app.job!, step));
  const right = screen.kind === 'step' && screen.step === step ? keptAnswers(screen.entry, proves) : {};
  const [kept, effects] = keepDraft(
    {
      ...app,
      causes: { ...app.causes, [step]: causes },
      notice: null,
    },
    'step',
    step,
    asKept(right),
  );
  const again = withTop(kept, stepScreen(kept, kept.job!, step));
  return [push(again, { kind: 'diagnosis', step, causes, stands: false, page: 0 }), effects];
}

function afterForm(app: App, action: Action, acted: Extract<Acted, { outcome: string }>): Turn {
  const screen = top(app);
  const under = screen.kind === 'form' ? pop(app) : app;
  const [cleared, dropped] =
    screen.kind === 'form' ? dropDraft(under, screen.form, screen.step ?? '') : ([under, []] as const);
  const told = { ...cleared, notice: noticeOf(app, action) };
  if (acted.next.closed) return [{ ...told, stack: [{ kind: 'closed', page: 0 }] }, dropped];
  // Who leaves for the night shuts the lid: the last words stand in the terminal.
  if (action.do === 'leave') return [{ ...told, exit: 0 }, dropped];
  if (action.do === 'note' || action.do === 'photo' || action.do === 'away') return [told, dropped];
  // What was reopened is what is wanted next.
  const wanted = action.do === 'reopen' ? action.step : null;
  return andThen([told, dropped], (at) => goOn(at, wanted));
}

function goOn(app: App, wanted: string | null = null): Turn {
  const working = { ...app, stack: app.stack.filter((screen) => screen.kind !== 'briefing') };
  if (!app.job) return goToStep(working, null);
  const isOpen = app.job.next.open.some((step) => step.id === wanted);
  return goToStep(working, isOpen ? wanted : (nextOpen(app.job)?.id ?? null));
}

function andThen([app, effects]: Turn, then: (app: App) => Turn): Turn {
  const [after, more] = then(app);
  return [after, [...effects, ...more]];
}

// After a refusal the step in hand may be open no more: then the screen moves on to one that is.
function stillThere(app: App): App {
  const screen = top(app);
  if (screen.kind !== 'step' || app.job?.next.open.some((step) => step.id === screen.step)) return app;
  return withTop(app, stepScreen(app, app.job!, nextOpen(app.job!)?.id ?? null));
}

const SAID: Partial<Record<Action['do'], string>> = {
  note: 'Note recorded.',
  photo: 'Photo recorded.',
  fail: 'Recorded: this step cannot pass. It stays open.',
  deviate: 'Recorded as a deviation.',
  reopen: 'Reopened.',
  correct: 'The correction is adopted.',
  pause: 'Paused.',
  leave: 'Left for the night.',
  away: 'Noted. Come back within the time you said.',
  doubt: 'Doubt recorded.',
};

function noticeOf(app: App, action: Action): Notice | null {
  const says = action.do === 'start-shift' ? `Working now: ${action.name}.` : SAID[action.do];
  if (says === undefined || !app.job) return null;
  const supply = SUPPLY_WORDS[app.job.next.supply].says.toLowerCase();
  return { tone: 'good', says: `${says} Supply: ${supply}.`, more: [] };
}
