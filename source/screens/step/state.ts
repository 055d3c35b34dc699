import type { OpenStep } from '../../job/action.ts';
import type { HeardAnswer } from '../../job/hearing/hearing.ts';
import { recordsBegin } from '../../procedure/lookup.ts';
import { placeName } from '../../procedure/place-name.ts';
import type { Proof, Step } from '../../procedure/step.ts';
import { draftOf, keepDraft } from '../app/drafts.ts';
import { type App, type OpenJob, type StepScreen, type Turn, top, withTop } from '../app/state.ts';
import type { PageTurn } from '../draw/frame.ts';
import { BLANK } from '../entry/answer.ts';
import { fieldsOf, valuesOf } from '../entry/field.ts';
import {
  answersOf,
  draftAnswers,
  type Entry,
  isAnsweredAnew,
  isTouched,
  newEntry,
  reduceEntry,
} from '../entry/state.ts';
import type { Key } from '../keys/key.ts';
import { proposalsFor, sinceNow } from '../live/state.ts';
import { askedProofs } from './asked-proofs.ts';

/** The step that is next: the first open one, those that failed last, but before what is done already. */
export function nextOpen(job: Pick<OpenJob, 'next' | 'status'>): OpenStep | null {
  const { open, closeNeeds, handsOff } = job.next;
  // Before a dangerous voltage is made safe nothing else is next.
  const met = open.find(({ id }) => id === handsOff);
  if (met) return met;
  // What takes power away or gives it again stays on offer to the end, but is no work that is left.
  if (closeNeeds.length === 0) return null;
  const isAt = (status: string) => (step: OpenStep) => job.status[step.id] === status;
  const first = open.find((step) => !isAt('failed')(step)) ?? open[0] ?? null;
  // What is done and only offered again leads nowhere while something that failed waits; to prove dead anew does.
  const isOfferedAgain = first !== null && isAt('done')(first) && job.next.supply !== 'unproven';
  return isOfferedAgain ? (open.find(isAt('failed')) ?? first) : first;
}

/** The step to go on with: one that was half answered, or else the next. */
export function stepToGoOn({ job, drafts }: Pick<App, 'job' | 'drafts'>): OpenStep | null {
  if (job === null) return null;
  const half = job.next.open.find(({ id }) => isAnsweredAnew(draftOf(drafts, 'step', id)));
  return half ?? nextOpen(job);
}

/** The step screen on a step, with what was already typed there. */
export function stepScreen(app: App, job: OpenJob, step: string | null): StepScreen {
  const open = job.next.open.find((one) => one.id === step);
  const saved = open ? draftOf(app.drafts, 'step', open.id) : {};
  return {
    kind: 'step',
    step: open?.id ?? null,
    entry: newEntry(open ? fieldsOf(proofsOf(job, open), placeNames(job)) : [], saved),
    looking: null,
    page: 0,
    heardFrom: sinceNow(app),
  };
}

function proofsOf(job: OpenJob, open: OpenStep): readonly Proof[] {
  return askedProofs(job, { about: stepOf(job, open.id)?.about ?? [], proof: open.proof });
}

/** What places are called: conductors by their colour as well, for that is what is seen. */
export function placeNames(job: OpenJob): (point: string) => string {
  const colours = new Map(job.plan.wiring.conductors.map((one) => [one.id, one.colour]));
  return (point) => (colours.has(point) ? `${point} ${colours.get(point)}` : placeName(point));
}

/** Opens the step screen on a step, and says so in the record where the step is half done by opening it. */
export function goToStep(app: App, step: string | null): Turn {
  const { job } = app;
  if (!job) return [app, []];
  const screen = stepScreen(app, job, step);
  const lowest = app.stack.findIndex((one) => one.kind === 'step');
  const stack = lowest < 0 ? [...app.stack, screen] : [...app.stack.slice(0, lowest), screen];
  const open = job.next.open.find((one) => one.id === step);
  const begins = open !== undefined && isHalfSaid(stepOf(job, open.id));
  return [{ ...app, stack }, begins ? [{ do: 'act', action: { do: 'begin', step: open.id } }] : []];
}

/** Whether opening a step may be half of doing it: it is recorded then, so that a break in between is not forgotten. */
export function isHalfSaid(step: Step | null): boolean {
  return step !== null && (recordsBegin(step) || provesDead(step));
}

/** Whether passing the step proves dead. */
export function provesDead(step: Step | null): boolean {
  return step?.effect === 'prove' || step?.effect === 'prove-short';
}

/** Doubt is one key on every card, also where letters are words. */
export const DOUBT_KEY = '*';

/** A key that the entry may want; null where it has no use for it. */
export function stepKey(app: App, screen: StepScreen, key: Key, turn: PageTurn): Turn | null {
  const open = openStep(app, screen);
  if (!open || screen.looking !== null || key.char === DOUBT_KEY) return null;
  const [entry, outcome] = reduceEntry(takeHeard(app, screen, open, key), key);
  if (outcome === 'unused') return null;
  const quiet = { ...app, notice: null };
  if (outcome === 'empty' && turn.of > 1) {
    return [withTop(app, { ...screen, page: screen.page + 1 }), []];
  }
  if (outcome === 'complete') {
    const values = valuesOf(open.proof, answersOf(entry));
    const heard = heardFor(app, screen, open);
    return [
      withTop(quiet, { ...screen, entry }),
      [{ do: 'act', action: { do: 'confirm', step: open.id, values, ...(heard && { heard }) } }],
    ];
  }
  const page = entry.at === screen.entry.at ? screen.page : 0;
  return keepDraft(withTop(quiet, { ...screen, entry, page }), 'step', open.id, draftAnswers(entry));
}

// What was heard stands above the entry: Enter takes it for the answer, while nothing else is chosen.
function takeHeard(app: App, screen: StepScreen, open: OpenStep, key: Key): Entry {
  const { entry } = screen;
  const field = entry.fields[entry.at];
  if (key.name !== 'enter' || key.pasted || field?.kind !== 'choice' || isTouched(entry)) return entry;
  const answer = proposalsFor(app, open.proof, screen.heardFrom).get(field.id)?.answer ?? null;
  const picked = field.options.findIndex(({ id }) => id === answer);
  if (picked < 0) return entry;
  return { ...entry, answers: entry.answers.with(entry.at, { ...BLANK, picked }) };
}

function heardFor(app: App, screen: StepScreen, open: OpenStep): Record<string, HeardAnswer> | null {
  const found = [...proposalsFor(app, open.proof, screen.heardFrom)].map(
    ([field, { heard }]) => [field, heard] as const,
  );
  return found.length === 0 ? null : Object.fromEntries(found);
}

/** The step in hand as the job offers it; null where it is not open. */
export function openStep(app: App, screen: StepScreen): OpenStep | null {
  return app.job?.next.open.find((step) => step.id === screen.step) ?? null;
}

/**
 * The step before or after the one that is seen; null at the ends. What is done only when something asks for it, as
 * a proof after an absence, is passed over while nothing does.
 */
export function besideStep(app: App, screen: StepScreen, by: -1 | 1): Step | null {
  const { job } = app;
  if (!job) return null;
  const seen = screen.looking ?? screen.step;
  const isShown = (step: Step) => {
    const status = job.status[step.id] ?? 'open';
    if (step.id === seen || step.id === screen.step) return true;
    if (status === 'excluded') return false;
    return !step.repeatable || status !== 'open' || job.next.open.some(({ id }) => id === step.id);
  };
  const shown = job.steps.filter(isShown);
  const at = shown.findIndex((step) => step.id === seen);
  return at < 0 ? null : (shown[at + by] ?? null);
}

/** Looks at the step before or after, without leaving the one in hand; the own one ends the looking. */
export function look(app: App, screen: StepScreen, by: -1 | 1): Turn {
  const to = besideStep(app, screen, by);
  if (!to) return [app, []];
  const looking = to.id === screen.step ? null : to.id;
  return [withTop({ ...app, notice: null }, { ...screen, looking, page: 0 }), []];
}

/** Goes to work on the step that is looked at, where it is open. */
export function takeUp(app: App, screen: StepScreen): Turn {
  const open = app.job?.next.open.some((step) => step.id === screen.looking) ?? false;
  return open ? goToStep(app, screen.looking) : [withTop(app, { ...screen, looking: null, page: 0 }), []];
}

/** A step of the job by its id, or null. */
export function stepOf(job: OpenJob, id: string | null): Step | null {
  return job.steps.find((step) => step.id === id) ?? null;
}

/** Turns the page of the top screen, where it has pages. */
export function turnPage(app: App, by: number): Turn {
  const screen = top(app);
  return 'page' in screen ? [withTop(app, { ...screen, page: screen.page + by }), []] : [app, []];
}
