import { inOrder } from './settle.ts';
import type { JobState, Owed, StepStatus } from './state.ts';
import type { Procedure, SupplyState } from './step.ts';

/**
 * What reopening a step, or correcting the survey, did to the job: which steps then stand how, which choices are to be
 * made again, and what is to be proved. A record keeps it, so that no later version comes to something else.
 */
export type Reopens = {
  readonly steps: { readonly [S in StepStatus]?: readonly string[] };
  readonly choices: readonly string[];
  readonly supply: SupplyState;
  readonly owed: Owed;
};

/** What leads from one state to another of the same steps. */
export function reopensOf(before: JobState, after: JobState): Reopens {
  const steps: Partial<Record<StepStatus, string[]>> = {};
  for (const [id, status] of Object.entries(after.context.status)) {
    if (before.context.status[id] === status) continue;
    const same = steps[status];
    if (same) same.push(id);
    else steps[status] = [id];
  }
  const choices = Object.keys(before.context.branches).filter((id) => !(id in after.context.branches));
  return { steps, choices, supply: after.supply, owed: after.context.owed };
}

/** The state that a record of it leads to: nothing is worked out again. */
export function applyReopens(procedure: Procedure, state: JobState, reopens: Reopens): JobState {
  const status: Record<string, StepStatus> = { ...state.context.status };
  for (const [to, ids] of Object.entries(reopens.steps) as [StepStatus, readonly string[]][])
    for (const id of ids) if (id in status) status[id] = to;
  const kept = Object.entries(state.context.branches).filter(([id]) => !reopens.choices.includes(id));
  const branches = inOrder(procedure, Object.fromEntries(kept));
  const context = { ...state.context, status, branches, owed: reopens.owed };
  return { ...state, supply: reopens.supply, context };
}
