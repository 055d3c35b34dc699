import type { JobState } from '../procedure/state.ts';
import type { Procedure, Step } from '../procedure/step.ts';
import { STOPS } from '../procedure/stop-table.ts';
import { isStopStep, sayStop, standingStops } from '../procedure/stops.ts';
import { STOP_VOLTS } from '../procedure/voltage.ts';
import type { Next } from './action.ts';
import type { StepResult } from './records.ts';

type Stops = NonNullable<Next['stops']>;

/** Where the job stands, with what has stopped it in sight: in the warnings, and where it stops everything at every step. */
export function withStops(
  next: Next,
  procedure: Procedure,
  state: JobState,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Next {
  if (next.closed) return next;
  const stops = procedure.steps.some(isStopStep)
    ? standingStops(state).map((stop) => ({ ...stop, says: sayStop(procedure, stop) }))
    : voltagesMet(procedure, state, results);
  if (stops.length === 0) return next;
  const first = stops.find(stopsAll);
  return {
    ...next,
    open: next.open.map((step) => {
      const says = stopsAt(stops, step.id);
      return says.length === 0 ? step : { ...step, cautions: [...says, ...step.cautions] };
    }),
    warnings: [...stops.map(({ says }) => says), ...next.warnings],
    stops,
    ...(first && { handsOff: first.opener }),
  };
}

const stopsAll = ({ code }: Stops[number]) => STOPS[code].reach === 'all';

/** What stands before the cautions of a step while something has stopped everything, but where that is answered. */
export function stopsAt(stops: Stops, step: string): readonly string[] {
  const all = stops.filter(stopsAll);
  return all.some(({ opener }) => opener === step) ? [] : all.map(({ says }) => says);
}

/** In a job whose steps were stored before stops had steps of their own: the step that met it is read again. */
function voltagesMet(
  { steps }: Procedure,
  { context }: JobState,
  results: ReadonlyMap<string, readonly StepResult[]>,
): Stops {
  return steps
    .filter(({ id }) => context.status[id] === 'failed' && isBeyond(results.get(id)))
    .map((step) => ({ code: 'voltage', opener: step.id, says: sayHandsOff(step) }));
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
