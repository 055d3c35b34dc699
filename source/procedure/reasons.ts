import { GUARDS, type Guard } from './guards.ts';
import { lookUp } from './lookup.ts';
import type { JobEvent, JobState, Reason } from './state.ts';
import type { Procedure } from './step.ts';

/**
 * Why something may not be done now: empty where it may. Machine, `next`, screens and refusals all ask here.
 *
 * @param guards the table that speaks; handed in only to show that each of its entries is needed
 */
export function reasons(
  procedure: Procedure,
  state: JobState,
  event: JobEvent,
  guards: readonly Guard[] = GUARDS,
): Reason[] {
  const id = 'step' in event ? event.step : null;
  const step = id === null ? null : (lookUp(procedure).steps.get(id) ?? null);
  const asked = { procedure, state, event, step };
  return guards
    .filter((guard) => guard.on.includes(event.type) && guard.applies(asked))
    .map((guard) => ({ code: guard.code, says: guard.says(asked) }));
}

/** Whether nothing speaks against it; the same answer as `reasons(...).length === 0`, sooner. */
export function isPermitted(
  procedure: Procedure,
  state: JobState,
  event: JobEvent,
  guards: readonly Guard[] = GUARDS,
): boolean {
  const step = 'step' in event ? (lookUp(procedure).steps.get(event.step) ?? null) : null;
  const asked = { procedure, state, event, step };
  return !guards.some((guard) => guard.on.includes(event.type) && guard.applies(asked));
}
