import { actKey } from '../procedure/act-words.ts';
import { leaveProof } from '../procedure/leave.ts';
import {
  closeNeeds,
  counts,
  doneSteps,
  lockedSteps,
  openSteps,
  stageOf,
  stepAfter,
} from '../procedure/next.ts';
import type { JobState } from '../procedure/state.ts';
import type { Procedure, Step } from '../procedure/step.ts';
import { warnings } from '../procedure/warnings.ts';
import type { Caution, Next, OpenStep } from './action.ts';

/** Where a job stands, as `loopward/next@1`. `more`: warnings that the machine's state does not tell. */
export function nextOf(
  job: { readonly id: string; readonly rehearsal: boolean; readonly personName: string | null },
  procedure: Procedure,
  state: JobState,
  more: readonly string[],
): Next {
  return {
    format: 'loopward/next@1',
    job: job.id,
    rehearsal: job.rehearsal,
    closed: state.job === 'closed',
    stage: stageOf(procedure, state),
    supply: state.supply,
    person: state.context.person,
    personName: job.personName,
    ...counts(procedure, state),
    doneSteps: doneSteps(procedure, state),
    warnings: [...warnings(procedure, state), ...more],
    closeNeeds: closeNeeds(procedure, state),
    leaveNeeds: state.job === 'closed' ? [] : leaveProof(procedure, state),
    open: openSteps(procedure, state).map(openStep),
    locked: lockedSteps(procedure, state),
    after: afterFirst(procedure, state),
  };
}

/** With its source in brackets where it is a published one; what is common practice or from memory says so on request. */
function sayCaution({ text, source }: Caution): string {
  return /^common practice|^from memory/i.test(source) ? text : `${text} (${source})`;
}

function afterFirst(procedure: Procedure, state: JobState): string | null {
  const [first] = openSteps(procedure, state);
  return first ? (stepAfter(procedure, state, first)?.id ?? null) : null;
}

function openStep(step: Step): OpenStep {
  const { id, stage, title, why, cautions, needs, hard, repeatable, acts, proof } = step;
  const texts = cautions.map(sayCaution);
  const named = acts.map((act) => ({ ...act, key: actKey(act) }));
  return { id, stage, title, why, cautions: texts, needs, hard, repeatable, acts: named, proof };
}
