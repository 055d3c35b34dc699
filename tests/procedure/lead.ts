import { judgeProof } from '../../source/procedure/judge.ts';
import { closeNeeds, openSteps } from '../../source/procedure/next.ts';
import { isPermitted } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import type { Procedure, Step } from '../../source/procedure/step.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { answersTo } from '../drive.ts';

export type Led = {
  readonly state: JobState;
  readonly confirmed: readonly string[];
  /** Figures that had to be typed: readings and sweeps. */
  readonly typed: number;
};

/** Answers a card and gives the event that follows from its judgement. */
export function confirmBy(
  step: Step,
  prefer: readonly string[] = [],
): Extract<JobEvent, { type: 'confirm' }> {
  const judged = judgeProof(step, answersTo(step, prefer));
  if (!judged.ok) throw new Error(`${step.id}: ${JSON.stringify(judged.problems)}`);
  return { type: 'confirm', step: step.id, verdict: judged.verdict, option: judged.option };
}

/**
 * Leads a job by nothing but the open steps, from a shift to the point where nothing but closing is left.
 *
 * @param from where the job stands; untouched unless said
 */
export function lead(
  procedure: Procedure,
  prefer: readonly string[] = [],
  from: JobState = initialState(procedure),
): Led {
  let state = nextState(procedure, from, { type: 'start-shift', person: 'p1', sitting: 'screens' });
  const confirmed: string[] = [];
  let typed = 0;
  while (confirmed.length < 1000) {
    const isFinished = closeNeeds(procedure, state).length === 0;
    const open = openSteps(procedure, state).filter(
      (one) => !(one.repeatable && isFinished) && confirmed.at(-1) !== one.id,
    );
    const given = open.every((one) => one.repeatable) ? toGiveUp(procedure, state) : undefined;
    if (given) {
      state = nextState(procedure, state, given);
      continue;
    }
    const [step] = open;
    if (!step) break;
    const event = confirmBy(step, prefer);
    if (event.verdict === 'failed') throw new Error(`${step.id} cannot be passed by what it says itself`);
    state = nextState(procedure, state, event);
    confirmed.push(step.id);
    typed += step.proof.filter(
      (proof) => proof.kind === 'sweep' || (proof.kind === 'reading' && !proof.when),
    ).length;
  }
  return { state, confirmed, typed };
}

/** A soft step that can no longer be done, such as a board on the bench once it is wired, is given up with a reason. */
function toGiveUp(procedure: Procedure, state: JobState): JobEvent | undefined {
  return procedure.steps
    .filter((step) => !step.hard && step.needs === 'any')
    .map((step): JobEvent => ({ type: 'deviate', step: step.id }))
    .find((event) => isPermitted(procedure, state, event));
}

/** Leads until a step is open, with a preference at choices. */
export function leadTo(procedure: Procedure, id: string, prefer: readonly string[] = []): JobState {
  let state = nextState(procedure, initialState(procedure), {
    type: 'start-shift',
    person: 'p1',
    sitting: 'screens',
  });
  for (let count = 0; count < 200; count += 1) {
    const open = openSteps(procedure, state);
    if (open.some((step) => step.id === id)) return state;
    state = nextState(procedure, state, confirmBy(open[0]!, prefer));
  }
  throw new Error(`${id} never opens`);
}
