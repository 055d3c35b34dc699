import { closeGuards } from './closing.ts';
import { connectsSource, isolates, isSettled, lookUp, touchesWiring } from './lookup.ts';
import type { JobEvent, JobState } from './state.ts';
import type { Procedure, Step } from './step.ts';
import { STOPS } from './stop-table.ts';
import { type StandingStop, sayStop, standingStops } from './stops.ts';
import { isOffered, supplySays } from './words.ts';

export type Asked = {
  readonly procedure: Procedure;
  readonly state: JobState;
  readonly event: JobEvent;
  /** The step that the event names; null where it names none, or none that exists. */
  readonly step: Step | null;
};

/** One gate: when it is shut, what it says then, and the published rule behind it. */
export type Guard = {
  readonly code: string;
  readonly on: readonly JobEvent['type'][];
  readonly rule: string;
  readonly applies: (asked: Asked) => boolean;
  readonly says: (asked: Asked) => string;
};

const ON_STEP: readonly JobEvent['type'][] = ['begin', 'confirm', 'fail', 'deviate'];
const WORK: readonly JobEvent['type'][] = ['begin', 'confirm'];
const BY_SOMEONE: readonly JobEvent['type'][] = [...ON_STEP, 'reopen', 'pause', 'leave', 'close'];
const EVERYTHING: readonly JobEvent['type'][] = [...BY_SOMEONE, 'start-shift', 'interrupted', 'doubt'];

/**
 * The gates. An action is let through where none of them is shut; there is no setting, flag or variable that
 * opens one. The order is that in which the reasons are read.
 */
export const GUARDS: readonly Guard[] = [
  {
    code: 'job-closed',
    on: EVERYTHING,
    rule: '21 CFR 11.10(e): a record is not changed once it is made; what comes later is an entry of its own',
    applies: ({ state }) => state.job === 'closed',
    says: () => 'The job is closed and its record sealed. Add a note in a continuation.',
  },
  {
    code: 'no-such-step',
    on: [...ON_STEP, 'reopen'],
    rule: '21 CFR 11.10(f): only the sequence of steps that belongs to the job is allowed',
    applies: ({ step }) => step === null,
    says: ({ event }) =>
      `This job has no step "${'step' in event ? event.step : ''}". Take an id from the open steps.`,
  },
  {
    code: 'no-person',
    on: BY_SOMEONE,
    rule: '29 CFR 1910.147(c)(4)(ii)(C) and (f)(4): whoever works is known, and each change of person is an orderly transfer',
    applies: ({ state }) => state.context.person === null,
    says: () => 'Nobody has said who is working. Say it first, with your name and your meter (start-shift).',
  },
  {
    code: 'no-sitting',
    on: BY_SOMEONE,
    rule: '29 CFR 1910.147(f)(4); Dismukes 2006: interrupted steps are omitted, so a break is said before work goes on',
    applies: ({ state }) => state.context.person !== null && state.context.sitting === 'none',
    says: () => 'The sitting has ended. Say who is working before going on (start-shift).',
  },
  {
    code: 'plan-blocked',
    on: [...ON_STEP, 'reopen', 'close'],
    rule: 'MIL-STD-40051: work starts only when parts and conditions that it needs are there',
    applies: ({ procedure, state, step, event }) =>
      procedure.blocked && !(event.type !== 'reopen' && step !== null && makesSafe(step, state)),
    says: () =>
      'The plan is blocked: the boards cannot take this site as it is. Only making safe, notes and corrections are possible.',
  },
  {
    code: 'ruled-out',
    on: ON_STEP,
    rule: 'DOE-STD-1029-92: of alternatives only the chosen one is performed',
    applies: ({ state, step }) => step !== null && state.context.status[step.id] === 'excluded',
    says: ({ step, state }) => {
      const branch = step?.onlyIf.find((one) => state.context.branches[one.step] !== undefined);
      return `What was chosen at ${branch?.step ?? 'an earlier step'} rules this step out. Reopen that choice if it was wrong.`;
    },
  },
  {
    code: 'choice-open',
    on: ON_STEP,
    rule: 'NUREG-0899 (1982, from memory): the condition comes before the action that hangs on it',
    applies: ({ state, step }) => unchosen(state, step).length > 0,
    says: ({ state, step }) => `First choose at ${unchosen(state, step).join(' and ')}.`,
  },
  {
    code: 'already-settled',
    on: ON_STEP,
    rule: '21 CFR 11.10(e): changes do not obscure earlier entries',
    applies: ({ state, step }) =>
      step !== null && ['done', 'deviated'].includes(state.context.status[step.id] ?? 'open'),
    says: ({ step }) => `${step?.id} already has its result. Reopen it to change that.`,
  },
  {
    code: 'waits-for-step',
    on: ON_STEP,
    rule: '29 CFR 1910.147(d) and 1910.333(b)(2): the sequence is binding; 21 CFR 11.10(f)',
    applies: ({ state, step }) => missingSteps(state, step).length > 0,
    says: ({ procedure, state, step }) => {
      const missing = missingSteps(state, step).map((id) => titleOf(procedure, id));
      return `First: ${missing.join('; ')}.`;
    },
  },
  {
    code: 'supply-not-so',
    on: WORK,
    rule: '29 CFR 1910.333(b)(2)(iv); NFPA 70E-2018 120.5: work only on what is proved dead now, else treat it as energised',
    applies: ({ state, step }) =>
      step !== null && step.needs !== 'any' && !step.repeatable && step.needs !== state.supply,
    says: ({ state, step }) => supplySays(step?.needs ?? 'any', state),
  },
  {
    code: 'not-asked-for',
    on: ON_STEP,
    rule: 'HSE HSG85 (2013, from memory): prove, test, prove at the point of work, each time work begins',
    applies: ({ state, step }) => (step?.repeatable ?? false) && step !== null && !isOffered(step, state),
    says: ({ state, step }) =>
      step?.effect === 'prove-short' && state.supply === 'unproven'
        ? 'After this break the short proof is not enough. Prove dead in full.'
        : `The supply is ${state.supply}; ${step?.id} is not asked for now.`,
  },
  {
    code: 'energising-begun',
    on: [...WORK, 'reopen'],
    rule: '29 CFR 1910.147(f)(1): a test under power is a bounded act of its own',
    applies: ({ procedure, state, event, step }) =>
      (event.type === 'reopen' || step?.needs === 'dead') &&
      energisingBegun(procedure, state, event) !== undefined,
    says: ({ procedure, state, event }) =>
      `${energisingBegun(procedure, state, event)} is begun and may have put power on. Finish it or say that it failed.`,
  },
  {
    code: 'half-done',
    on: WORK,
    rule: '29 CFR 1910.333(b)(2)(v)(A): before power, tests and a visual check that everything is complete',
    applies: ({ procedure, state, step }) =>
      step?.effect === 'energise' && halfDone(procedure, state, step.id).length > 0,
    says: ({ procedure, state, step }) =>
      `Not finished: ${halfDone(procedure, state, step?.id ?? '').join(', ')}. Finish or insulate that before any power.`,
  },
  {
    code: 'board-is-wired',
    on: WORK,
    rule: '29 CFR 1910.333(b)(2)(v): nothing is energised while field wiring hangs on it, unless it has been checked',
    applies: ({ procedure, state, step }) =>
      step !== null && step.needs === 'any' && connectsSource(step) && fieldWired(procedure, state),
    says: () =>
      'A field conductor may already be on the board, so it is no longer a board on the bench. Deviate with the reason, or correct the plan.',
  },
  {
    code: 'option-unknown',
    on: ['confirm'],
    rule: 'Degani and Wiener 1993: the answer is the actual state, never just "checked"',
    applies: ({ procedure, step, event }) =>
      step !== null && event.type === 'confirm' && !optionFits(procedure, step, event),
    says: ({ step }) => `${step?.id} is a choice that opens other steps. Say which option it is.`,
  },
  {
    code: 'work-stopped',
    on: [...WORK, 'deviate', 'reopen', 'close'],
    rule: '29 CFR 1910.333(a)(1) and (c)(2): live parts of 50 V and more are for qualified persons alone; 1910.147(e): what was stopped for safety goes on once it is verified',
    applies: ({ state, step, event }) => stopping(state, step, event).length > 0,
    says: ({ procedure, state, step, event }) =>
      stopping(state, step, event)
        .map((stop) => sayStop(procedure, stop))
        .join(' '),
  },
  {
    code: 'stopping-answer',
    on: ['deviate'],
    rule: '29 CFR 1910.147(d): no step of the sequence is passed over; an answer that stops the work is answered by another one',
    applies: ({ state, step }) => {
      const code = step === null ? undefined : state.context.stops[step.id];
      return code !== undefined && STOPS[code].reach === 'step';
    },
    says: ({ procedure, state, step }) =>
      standingStops(state)
        .filter(({ opener }) => opener === step?.id)
        .map((stop) => sayStop(procedure, stop))
        .join(' '),
  },
  {
    code: 'hard-step',
    on: ['deviate'],
    rule: '29 CFR 1910.333(b)(2); NFPA 70E-2018 120.5: a step of the sequence that is missing means energised',
    applies: ({ step }) => step?.hard === true,
    says: ({ step }) =>
      `${step?.id} cannot be deviated from. Do it, or correct the survey if it rests on something that is not so.`,
  },
  {
    code: 'nothing-to-reopen',
    on: ['reopen'],
    rule: '21 CFR 11.10(e): an entry is answered by another entry',
    applies: ({ state, step }) =>
      step !== null &&
      !step.repeatable &&
      ['open', 'excluded'].includes(state.context.status[step.id] ?? 'open'),
    says: ({ step }) => `${step?.id} has no result yet. There is nothing to reopen.`,
  },
  {
    code: 'offered-again',
    on: ['reopen'],
    rule: 'HSE HSG85 (2013, from memory): a proof is made anew, never taken back',
    applies: ({ step }) => step?.repeatable === true,
    says: ({ step }) =>
      `${step?.id} is offered again whenever the supply asks for it. If you doubt the isolation, say so with "doubt".`,
  },
  ...closeGuards,
];

/** The stops of everything that an action meets: all but what takes power away, and what answers the stop itself. */
function stopping(state: JobState, step: Step | null, event: JobEvent): StandingStop[] {
  const all = standingStops(state).filter(({ code }) => STOPS[code].reach === 'all');
  if (all.length === 0 || event.type === 'close') return all;
  if (step === null) return [];
  const answers = event.type !== 'deviate' && all.some(({ opener }) => opener === step.id);
  // Unplugging is done from outside; a battery's lead is not, and waits with everything else.
  const unplugs = WORK.includes(event.type) && step.effect === 'isolate';
  return answers || unplugs ? [] : all;
}

/** What makes safe stays possible under a blocked plan, once something has been isolated or energised. */
function makesSafe(step: Step, state: JobState): boolean {
  if (state.supply === 'live') return false;
  const proves = step.effect === 'prove' || step.effect === 'prove-short' || step.effect === 'isolate';
  return proves || (isolates(step) && !touchesWiring(step) && !connectsSource(step));
}

function unchosen(state: JobState, step: Step | null): string[] {
  const { branches, status } = state.context;
  return (step?.onlyIf ?? [])
    .map((branch) => branch.step)
    .filter((id) => branches[id] === undefined && status[id] !== 'excluded');
}

/** Ids that a step still waits for. Once power has gone, isolating waits for nothing: it makes safe. */
export function missingSteps(state: JobState, step: Step | null): string[] {
  if (step === null || (step.effect === 'isolate' && state.supply !== 'live')) return [];
  return step.waitsFor.filter((id) => !isSettled(state.context.status[id]));
}

function titleOf(procedure: Procedure, id: string): string {
  const step = lookUp(procedure).steps.get(id);
  return step ? `${step.title} (${id})` : id;
}

/**
 * A step that may have put power on while the supply still counts as dead. Finishing it is no hindrance to itself.
 * Once a sitting has ended it is no longer begun but unknown, and the full proof of dead that is owed then settles it.
 */
function energisingBegun(procedure: Procedure, state: JobState, event: JobEvent): string | undefined {
  const own = event.type !== 'reopen' && 'step' in event ? event.step : null;
  return procedure.steps.find(
    (step) => step.effect === 'energise' && step.id !== own && state.context.status[step.id] === 'begun',
  )?.id;
}

function halfDone(procedure: Procedure, state: JobState, but: string): string[] {
  const half = (id: string) => ['begun', 'unknown', 'failed'].includes(state.context.status[id] ?? 'open');
  return procedure.steps
    .filter((step) => step.id !== but && touchesWiring(step) && half(step.id))
    .map((step) => step.id);
}

function fieldWired(procedure: Procedure, state: JobState): boolean {
  return procedure.steps.some(
    (step) =>
      step.acts.some((act) => act.do === 'land') &&
      !['open', 'excluded'].includes(state.context.status[step.id] ?? 'open'),
  );
}

function optionFits(
  procedure: Procedure,
  step: Step,
  event: Extract<JobEvent, { type: 'confirm' }>,
): boolean {
  if (!lookUp(procedure).branching.has(step.id)) return event.option === null;
  if (event.verdict === 'failed') return event.option === null;
  const choices = step.proof.flatMap((proof) => (proof.kind === 'choice' ? proof.options : []));
  return choices.some((option) => option.leads === 'branch' && option.id === event.option);
}
