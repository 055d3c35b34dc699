import type { JobState } from '../procedure/state.ts';
import type { Procedure, Step } from '../procedure/step.ts';
import { STOP_VOLTS } from '../procedure/voltage.ts';
import type { Next } from './action.ts';
import type { StepResult } from './records.ts';

/**
 * Where the job stands, with a voltage beyond 50 V that nobody has made safe in sight at every step: the step that met it
 * comes first, and every other one says so before its own cautions.
 */
export function withHandsOff(
  next: Next,
  { steps }: Procedure,
  { context }: JobState,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Next {
  const met = steps.filter(({ id }) => context.status[id] === 'failed' && isBeyond(results.get(id)));
  const [first] = met;
  if (first === undefined || next.closed) return next;
  const says = met.map(sayHandsOff);
  const open = next.open.map((step) =>
    met.some(({ id }) => id === step.id) ? step : { ...step, cautions: [...says, ...step.cautions] },
  );
  return { ...next, open, warnings: [...says, ...next.warnings], handsOff: first.id };
}

function isBeyond(tries: readonly StepResult[] = []): boolean {
  const last = tries.findLast((one) => one.do === 'confirm');
  return Object.values(last?.values ?? {}).some(
    ({ unit, milli, fall }) =>
      fall === 'beyond-stop' || (unit === 'V' && Math.abs(milli ?? 0) > STOP_VOLTS * 1000),
  );
}

/** What every other step says first while a step has met such a voltage. */
export function sayHandsOff({ title }: Pick<Step, 'title'>): string {
  return `More than ${STOP_VOLTS} V was met at “${title}”, and nobody has made it safe since. Hands off until a licensed electrician has found where it comes from, and it is read again.`;
}
