import { conductorsOf } from '../wiring/act.ts';
import { connectsSource, isSettled, lookUp, touchesWiring } from './lookup.ts';
import type { JobEvent, JobState } from './state.ts';
import type { Procedure, Step } from './step.ts';
import { STOPS } from './stop-table.ts';
import { looksForVoltage } from './supply.ts';

/** One transition to look at. `before` and `after` are one and the same where the event was refused. */
export type Passage = {
  readonly procedure: Procedure;
  readonly before: JobState;
  readonly event: JobEvent;
  readonly after: JobState;
};
type Invariant = {
  readonly number: number;
  readonly says: string;
  readonly holds: (passage: Passage) => boolean;
};

/** The step that was worked on by this transition: begun, passed or failed by its proof. */
function worked({ procedure, before, event, after }: Passage): Step | null {
  if ((event.type !== 'begin' && event.type !== 'confirm') || before === after) return null;
  return lookUp(procedure).steps.get(event.step) ?? null;
}

const statusOf = (state: JobState, id: string) => state.context.status[id] ?? 'open';
const isDone = (state: JobState, id: string) => statusOf(state, id) === 'done';
const stepsThat = (procedure: Procedure, does: Step['acts'][number]['do']) =>
  procedure.steps.filter((step) => step.acts.some((act) => act.do === does));
const given = (procedure: Procedure, id: string) => lookUp(procedure).steps.has(id);

/**
 * What must hold over every transition, whatever order life brings. Written from what the steps do, not from
 * what they wait for, so that a missing gate shows.
 */
export const INVARIANTS: readonly Invariant[] = [
  {
    number: 1,
    says: 'no conductor is lifted, parted, cut or landed unless the supply is dead at that moment, with every source isolated and no voltage met',
    holds: (passage) => {
      const step = worked(passage);
      const inTime = step === null || !touchesWiring(step) || isDeadNow(passage);
      return inTime && isIsolated(passage) && !isDeadUnderVoltage(passage) && isSweptBeforeLanding(passage);
    },
  },
  {
    number: 2,
    says: 'no adapter meets a board before its own reading, and no power before every rewire and cold check',
    holds: (passage) => powerIsGivenRightly(passage),
  },
  {
    number: 3,
    says: 'a conductor is lifted only after its label and all of its screw, a join parted only after its readings',
    holds: (passage) => isLabelledAndRead(passage),
  },
  {
    number: 4,
    says: 'life safety is not moved, nor what it shares touched or powered down, before its record',
    holds: (passage) => keepsLifeSafety(passage),
  },
  {
    number: 5,
    says: "a mains-fed or unknown enclosure is opened only after the electrician's record, and where mains is found inside no wire is touched before there is one",
    holds: (passage) => {
      const step = worked(passage);
      const opens = step?.acts.some((act) => act.do === 'open-enclosure') ?? false;
      const opensInTime =
        !opens || !passage.procedure.mainsFed || isDone(passage.before, 'electrician.record');
      return opensInTime && (step === null || !touchesWiring(step) || isRidOfMains(passage));
    },
  },
  {
    number: 6,
    says: 'no hard step is deviated from',
    holds: ({ procedure, after }) =>
      procedure.steps.every((step) => !step.hard || statusOf(after, step.id) !== 'deviated'),
  },
  {
    number: 7,
    says: 'what did not pass does not become done',
    holds: ({ before, event, after }) => {
      const isFailure = event.type === 'fail' || (event.type === 'confirm' && event.verdict === 'failed');
      return !isFailure || isDone(before, event.step) || !isDone(after, event.step);
    },
  },
  {
    number: 8,
    says: 'what rests on something that is open again is open again itself',
    holds: ({ procedure, after }) => restsOnSettled(procedure, after),
  },
  {
    number: 9,
    says: 'the state is plain data that depends on nothing but the events: one status for each step, in order',
    holds: ({ procedure, after }) => {
      const ids = Object.keys(after.context.status);
      const owes = after.supply === 'unproven';
      return (
        ids.length === procedure.steps.length &&
        procedure.steps.every((step, place) => ids[place] === step.id) &&
        owes === (after.context.owed !== 'none')
      );
    },
  },
  {
    number: 10,
    says: 'after closing nothing changes any more',
    holds: ({ before, after }) => before.job !== 'closed' || JSON.stringify(before) === JSON.stringify(after),
  },
  {
    number: 11,
    says: 'a job is closed with every step done, given up with a reason, or ruled out',
    holds: ({ procedure, after }) =>
      after.job !== 'closed' ||
      procedure.steps.every((step) => step.repeatable || isSettled(statusOf(after, step.id))),
  },
  {
    number: 12,
    says: 'once everything is stopped nothing is worked on, given up, reopened or closed but what takes power away or answers it',
    holds: (passage) => stopsWhatIsStopped(passage),
  },
  {
    number: 13,
    says: 'a stop ends with the pass of the step that answers it, and with nothing else',
    holds: ({ before, event, after }) =>
      Object.keys(before.context.stops).every(
        (id) =>
          id in after.context.stops ||
          (event.type === 'confirm' && event.step === id && event.verdict !== 'failed'),
      ),
  },
  {
    number: 14,
    says: 'a step whose answer stopped the work is not given up',
    holds: ({ after }) => Object.keys(after.context.stops).every((id) => statusOf(after, id) !== 'deviated'),
  },
];

function stopsWhatIsStopped({ procedure, before, event, after }: Passage): boolean {
  const openers = Object.entries(before.context.stops).filter(([, code]) => STOPS[code].reach === 'all');
  if (openers.length === 0 || before === after) return true;
  if (event.type === 'close') return false;
  if (!['begin', 'confirm', 'deviate', 'reopen'].includes(event.type) || !('step' in event)) return true;
  const step = lookUp(procedure).steps.get(event.step);
  const isAnswer = event.type !== 'deviate' && openers.some(([id]) => id === event.step);
  const unplugs =
    step?.repeatable === true && step.acts.length > 0 && step.acts.every((act) => act.do === 'isolate');
  return isAnswer || (unplugs && event.type !== 'deviate' && event.type !== 'reopen');
}

/** Mains that was seen, or could not be ruled out, is answered by an electrician and by nothing else. */
function isRidOfMains({ before }: Passage): boolean {
  const found = before.context.branches['survey.open'] ?? 'none';
  return found === 'none' || isDone(before, 'electrician.inside');
}

/** Nor is it dead while somebody may just be plugging in an adapter. */
function isDeadNow({ procedure, before }: Passage): boolean {
  const plugging = procedure.steps.some(
    (step) => step.effect === 'energise' && statusOf(before, step.id) === 'begun',
  );
  return before.supply === 'dead' && !plugging;
}

/** Dead is only what was proved with each of its own isolations done. */
function isIsolated({ procedure, before, after }: Passage): boolean {
  if (after.supply !== 'dead' || before.supply === 'dead') return true;
  return procedure.steps.filter((step) => step.needs === 'isolating').every((step) => isDone(after, step.id));
}

/** What a join or the old board shorted shows on the free end alone: each was swept there before it is landed. */
function isSweptBeforeLanding(passage: Passage): boolean {
  const landed = worked(passage)?.acts.flatMap((act) => (act.do === 'land' ? [act.conductor] : [])) ?? [];
  if (landed.length === 0) return true;
  const { procedure, before } = passage;
  const swept = new Set(
    procedure.steps
      .filter((step) => !step.repeatable && looksForVoltage(step) && isDone(before, step.id))
      .flatMap((step) => step.proof.flatMap((proof) => (proof.kind === 'sweep' ? proof.points : []))),
  );
  return landed.every((conductor) => swept.has(conductor));
}

/** Whoever met a voltage, or could not say that there is none, works on nothing that counts as dead. */
function isDeadUnderVoltage({ procedure, before, event, after }: Passage): boolean {
  const failed = event.type === 'fail' || (event.type === 'confirm' && event.verdict === 'failed');
  if (!failed || before === after || after.supply !== 'dead') return false;
  const step = lookUp(procedure).steps.get(event.step);
  return step !== undefined && looksForVoltage(step);
}

function powerIsGivenRightly(passage: Passage): boolean {
  const step = worked(passage);
  if (step === null || !connectsSource(step)) return true;
  const { procedure, before } = passage;
  const adapters = step.acts.flatMap((act) =>
    act.do === 'connect-source' && act.source.startsWith('adapter:')
      ? [`prepare.${act.source.replace(':', '.')}`]
      : [],
  );
  if (!adapters.every((id) => isDone(before, id))) return false;
  const wiring = stepsThat(procedure, 'land');
  if (step.effect !== 'energise') {
    const bench = step.needs === 'any';
    return bench
      ? wiring.every((one) => ['open', 'excluded'].includes(statusOf(before, one.id)))
      : before.supply === 'energised';
  }
  if (before.supply !== 'dead') return false;
  const half = procedure.steps.some(
    (one) => touchesWiring(one) && ['begun', 'unknown', 'failed'].includes(statusOf(before, one.id)),
  );
  if (half) return false;
  const checks = procedure.steps.filter((one) => one.id.startsWith('cold.'));
  const complete = [...wiring, ...checks].every((one) => isSettled(statusOf(before, one.id)));
  return complete || step.repeatable;
}

function isLabelledAndRead(passage: Passage): boolean {
  const step = worked(passage);
  if (step === null) return true;
  const { procedure, before } = passage;
  const labelled = (conductor: string) =>
    stepsThat(procedure, 'label').some(
      (one) =>
        one.acts.some((act) => act.do === 'label' && act.conductor === conductor) && isDone(before, one.id),
    );
  const screwOf = new Map(
    procedure.steps.flatMap((one) =>
      one.acts.flatMap((act) => (act.do === 'lift' ? [[act.conductor, act.at] as const] : [])),
    ),
  );
  const sharing = (screw: string) => [...screwOf].filter(([, at]) => at === screw).map(([id]) => id);
  return step.acts.every((act) => {
    if (act.do === 'lift') return sharing(act.at).every(labelled);
    if (act.do !== 'part') return true;
    return step.about
      .map((zone) => `measure.${zone}`)
      .filter((id) => given(procedure, id))
      .every((id) => isDone(before, id));
  });
}

function keepsLifeSafety(passage: Passage): boolean {
  const step = worked(passage);
  if (step === null) return true;
  const { procedure, before } = passage;
  const touched = step.acts.flatMap(conductorsOf);
  if (touchesWiring(step) && touched.some((id) => procedure.lifeSafety.conductors.includes(id))) return false;
  const decision = 'life-safety.decision';
  if (!given(procedure, decision)) return true;
  const powersDown = step.effect === 'isolate' && before.supply === 'live';
  const sharesIt = touchesWiring(step) && touched.some((id) => procedure.lifeSafety.shared.includes(id));
  if (!powersDown && !sharesIt) return true;
  return isDone(before, 'life-safety.independent') || isDone(before, 'impairment.open');
}

/** Everything settled rests on what is settled: nothing stands on a proof that was taken back. */
function restsOnSettled(procedure: Procedure, state: JobState): boolean {
  return procedure.steps.every((step) => {
    const status = statusOf(state, step.id);
    if (step.repeatable || (status !== 'done' && status !== 'deviated')) return true;
    return (
      step.waitsFor.every((id) => isSettled(statusOf(state, id))) &&
      step.onlyIf.every((branch) => branch.options.includes(state.context.branches[branch.step] ?? ''))
    );
  });
}
