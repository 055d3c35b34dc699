import type { JobState } from '../procedure/state.ts';
import type { Procedure, Step } from '../procedure/step.ts';
import { STOPS } from '../procedure/stop-table.ts';
import { isStopStep, sayStop, standingStops } from '../procedure/stops.ts';
import { STOP_VOLTS } from '../procedure/voltage.ts';
import type { Next } from './action.ts';
import type { StepResult } from './records.ts';

/** Where the job stands, with what has stopped it in sight: in the warnings, and where it stops everything at every step. */
export function withStops(
  next: Next,
  procedure: Procedure,
  state: JobState,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Next {
  if (next.closed) return next;
  if (!procedure.steps.some(isStopStep)) return withVoltageMet(next, procedure, state, results);
  const standing = standingStops(state);
  if (standing.length === 0) return next;
  const stops = standing.map((stop) => ({ ...stop, says: sayStop(procedure, stop) }));
  const all = stops.filter(({ code }) => STOPS[code].reach === 'all');
  const [first] = all;
  const warnings = [...stops.map(({ says }) => says), ...next.warnings];
  if (first === undefined) return { ...next, warnings, stops };
  return { ...next, open: warned(next.open, all), warnings, stops, handsOff: first.opener };
}

/** Each open step with what stopped everything before its own cautions, but the one that answers it. */
function warned(open: Next['open'], stops: readonly { readonly opener: string; readonly says: string }[]) {
  return open.map((step) =>
    stops.some(({ opener }) => opener === step.id)
      ? step
      : { ...step, cautions: [...stops.map(({ says }) => says), ...step.cautions] },
  );
}

/** In a job whose steps were stored before stops had steps of their own: the step that met it is read again. */
function withVoltageMet(
  next: Next,
  { steps }: Procedure,
  { context }: JobState,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Next {
  const met = steps.filter(({ id }) => context.status[id] === 'failed' && isBeyond(results.get(id)));
  const [first] = met;
  if (first === undefined) return next;
  const stops = met.map((step) => ({ code: 'voltage' as const, opener: step.id, says: sayHandsOff(step) }));
  const warnings = [...stops.map(({ says }) => says), ...next.warnings];
  return { ...next, open: warned(next.open, stops), warnings, stops, handsOff: first.id };
}

function isBeyond(tries: readonly StepResult[] = []): boolean {
  const last = tries.findLast((one) => one.do === 'confirm');
  return Object.values(last?.values ?? {}).some(
    ({ unit, milli, fall }) =>
      fall === 'beyond-stop' || (unit === 'V' && Math.abs(milli ?? 0) > STOP_VOLTS * 1000),
  );
}

function sayHandsOff({ title }: Pick<Step, 'title'>): string {
  return `More than ${STOP_VOLTS} V was met at “${title}”, and nobody has made it safe since. Hands off until a licensed electrician has found where it comes from, and it is read again.`;
}
