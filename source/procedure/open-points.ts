import type { JobState, StepStatus } from './state.ts';
import type { ChoiceProof, Procedure, Proof, Step } from './step.ts';

/** The card on which the people who live with it are told what is not as it should be, its question and its happy answer. */
const TOLD = { step: 'handover.user', field: 'open-points', none: 'none' } as const;
const OPEN: ReadonlySet<StepStatus> = new Set(['deviated', 'failed', 'begun', 'unknown']);
const SHOWN = 3;

/** Steps that were given up, or that nobody finished: what stands open while somebody says that nothing does. */
export function openPoints(procedure: Procedure, state: JobState): Step[] {
  return procedure.steps.filter(({ id }) => id !== TOLD.step && OPEN.has(state.context.status[id] ?? 'open'));
}

/** The question for open points as it stands: while there are any, that there are none is no answer to it. */
export function presentOpenPoints(procedure: Procedure, state: JobState, step: Step, proof: Proof): Proof {
  if (!asksForThem(step, proof)) return proof;
  const open = openPoints(procedure, state);
  if (open.length === 0) return proof;
  const options = proof.options.filter(({ id }) => id !== TOLD.none);
  return { ...proof, label: `${proof.label}: ${named(open)}`, options };
}

/** Why an answer to that question is not taken; null where it is. */
export function deniesOpenPoints(
  procedure: Procedure,
  state: JobState,
  step: string,
  values: Readonly<Record<string, unknown>>,
): string | null {
  if (step !== TOLD.step || values[TOLD.field] !== TOLD.none) return null;
  const open = openPoints(procedure, state);
  if (open.length === 0) return null;
  return `There are open points: ${named(open)}. Read them out to whoever takes it over, and record whether they are accepted.`;
}

function asksForThem(step: Step, proof: Proof): proof is ChoiceProof {
  return step.id === TOLD.step && proof.kind === 'choice' && proof.field === TOLD.field;
}

function named(open: readonly Step[]): string {
  const more = open.length > SHOWN ? `; and ${open.length - SHOWN} more` : '';
  return `${open
    .slice(0, SHOWN)
    .map(({ title }) => title)
    .join('; ')}${more}`;
}
