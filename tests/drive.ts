import type { Acted, Action, Next, OpenStep, TypedValue } from '../source/job/action.ts';
import type { Proof } from '../source/procedure/step.ts';

type Values = Record<string, TypedValue>;
type Acting = (action: Action) => Acted | Promise<Acted>;

/**
 * Answers a card with values taken only from what `next` says: a reading in the middle of its window, nothing met
 * in a sweep, the first option that leads on, what is expected at the receiving side.
 *
 * @param prefer option ids to choose where they are offered
 */
export function answersTo(step: Pick<OpenStep, 'proof'>, prefer: readonly string[] = []): Values {
  const values: Values = {};
  for (const proof of step.proof) {
    // Asked for only where a sweep met more than it should.
    if (proof.kind === 'reading' && proof.when) continue;
    values[proof.field] = answerTo(proof, prefer);
  }
  return values;
}

const UNITS = { ohm: 'ohm', V: 'V', A: 'A' } as const;

function answerTo(proof: Proof, prefer: readonly string[]): TypedValue {
  switch (proof.kind) {
    case 'reading': {
      if (proof.open === 'must' || (proof.open === 'may' && proof.min === null && proof.nominal === null))
        return 'OL';
      const value = proof.nominal ?? middle(proof.min, proof.max);
      return `${Number(value.toFixed(3))} ${UNITS[proof.unit]}`;
    }
    case 'sweep': {
      const value = proof.min <= 0 && (proof.max ?? 1) >= 0 ? 0 : middle(proof.min, proof.max);
      return {
        greatest: `${value} ${UNITS[proof.unit]}`,
        at: proof.points[0] ?? '',
        points: proof.points.length,
      };
    }
    case 'choice': {
      const wanted = proof.options.find((option) => prefer.includes(option.id));
      const onward = proof.options.find((option) => option.leads !== 'fail');
      return (wanted ?? onward)?.id ?? '';
    }
    case 'text':
      if (proof.check?.is === 'count' && proof.check.survey !== null) return `${proof.check.survey}`;
      return proof.offers[0] ?? (proof.numeric ? '12' : 'as found');
    case 'observation':
      return proof.expect;
  }
}

function middle(min: number | null, max: number | null): number {
  if (min === null) return max ?? 0;
  return max === null ? min * 2 : (min + max) / 2;
}

/**
 * Leads a job until nothing is open, or until `until` says so.
 *
 * @returns ids of the steps confirmed, in order
 * @throws Error with the answer, where a step does not pass
 */
export async function drive(
  first: Next,
  act: Acting,
  options: {
    readonly prefer?: readonly string[];
    readonly until?: (next: Next) => boolean;
    readonly by?: string;
  } = {},
): Promise<{ readonly next: Next; readonly confirmed: string[] }> {
  const confirmed: string[] = [];
  let next = first;
  for (let count = 0; count < 2000; count += 1) {
    const step = next.open.find(
      (one) => one.needs !== 'any' || !one.repeatable || confirmed.at(-1) !== one.id,
    );
    if (!step || next.closed || options.until?.(next)) return { next, confirmed };
    if (isDone(next)) return { next, confirmed };
    const values = answersTo(step, options.prefer);
    const action: Action = {
      do: 'confirm',
      step: step.id,
      values,
      ...(options.by ? { by: options.by } : {}),
    };
    const acted = await act(action);
    if (!('outcome' in acted) || acted.outcome === 'failed') {
      throw new Error(`${step.id} did not pass: ${JSON.stringify({ values, ...acted, next: undefined })}`);
    }
    confirmed.push(step.id);
    next = acted.next;
  }
  throw new Error(`The job does not come to an end. Last: ${confirmed.slice(-5).join(', ')}`);
}

function isDone(next: Next): boolean {
  return next.closeNeeds.length === 0 && next.open.every((step) => step.repeatable);
}

/** From the shift to the seal. */
export async function driveToClosed(first: Next, act: Acting, prefer: readonly string[] = []): Promise<Next> {
  const shift = await act({ do: 'start-shift', name: 'Ada Lovett', instrument: 'meter 3' });
  if (!('outcome' in shift)) throw new Error(`No shift: ${JSON.stringify(shift)}`);
  const { next } = await drive(shift.next ?? first, act, { prefer });
  const closed = await act({ do: 'close', signatures: [{ name: 'Ada Lovett', role: 'installer' }] });
  if (!('outcome' in closed)) {
    throw new Error(
      `Not closed: ${JSON.stringify({ ...closed, next: undefined })}; needs ${next.closeNeeds.join(' ')}`,
    );
  }
  return closed.next;
}
