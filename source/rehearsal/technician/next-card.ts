import type { Action, Next, OpenStep } from '../../job/action.ts';

/** How often one card is tried before it is let be. */
export const MOST_TRIES = 4;

type WayOut = Extract<Action, { do: 'fail' | 'deviate' }>;

export const deviation = (step: string): Extract<WayOut, { do: 'deviate' }> => ({
  do: 'deviate',
  step,
  reason: 'Nothing was found that explains it.',
  residualRisk: 'The circuit may fail later.',
});

/** Where nothing is open: what was broken off is said to have failed, and what can be given up is given up. */
export function wayOut(next: Next, tried: ReadonlySet<string>): WayOut | null {
  for (const { id, says } of next.locked) {
    const begun = /(\S+) is begun/.exec(says)?.[1];
    if (begun !== undefined && !tried.has(`fail ${begun}`)) {
      return { do: 'fail', step: begun, reason: 'It was broken off.' };
    }
    if (/Deviate with the reason/.test(says) && !tried.has(`deviate ${id}`)) return deviation(id);
  }
  return null;
}

/** What gives power for one night only is not the way on. */
const NEVER = new Set(['power.interim']);

/**
 * The first step offered is the one to do; what failed as often as one tries waits for another. Sources are taken off
 * where a proof met a voltage, and once power stands in the way of what is left.
 */
export function pick(next: Next, tries: ReadonlyMap<string, number>, metVoltage: boolean): OpenStep | null {
  const left = next.open.filter(
    ({ id, repeatable }) => !NEVER.has(id) && (tries.get(id) ?? 0) < (repeatable ? 20 : MOST_TRIES),
  );
  const isolate = left.find(({ id }) => id === ISOLATE);
  if (metVoltage && isolate !== undefined) return isolate;
  const other = left.find(({ id }) => id !== ISOLATE);
  if (other !== undefined) return other;
  return isolate !== undefined && isInTheWay(next) ? isolate : null;
}

const ISOLATE = 'supply.isolate';

function isInTheWay({ supply, locked }: Next): boolean {
  return supply !== 'energised' || locked.some(({ waitingFor }) => waitingFor.includes('supply:dead'));
}
