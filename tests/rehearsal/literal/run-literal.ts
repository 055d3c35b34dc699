import type { Acted, Action, Next, OpenStep, TypedValue } from '../../../source/job/action.ts';
import { act } from '../../../source/rehearsal/building/hands.ts';
import { outsideOf } from '../../../source/rehearsal/technician/follow.ts';
import { doAct, type Literal, workLiterally } from '../../../source/rehearsal/technician/literal.ts';
import { deviation, MOST_TRIES, pick, wayOut } from '../../../source/rehearsal/technician/next-card.ts';
import type { Port } from '../../../source/rehearsal/technician/work.ts';

/** A reading that was taken honestly and does not fit what the card expects. */
export type Odd = {
  readonly step: string;
  readonly field: string;
  readonly value: string;
  readonly says: string;
};

export type LiteralRun = {
  readonly closed: boolean;
  readonly stuck: readonly string[];
  readonly odd: readonly Odd[];
  readonly refused: readonly string[];
  /** Cards of which something was left undone, and said to be. */
  readonly slips: readonly string[];
  readonly cards: number;
  readonly readings: number;
};

/**
 * A whole job by somebody literal.
 *
 * @param read how he reads a card
 * @param leavesOut which acts of a card, by their place, he leaves undone and says so
 */
export function carryOutLiterally(
  port: Port,
  literal: Literal,
  read: (step: OpenStep) => OpenStep = (step) => step,
  leavesOut: (step: OpenStep) => ReadonlySet<number> = () => new Set(),
): LiteralRun {
  const odd: Odd[] = [];
  const refused: string[] = [];
  const slips: string[] = [];
  const tries = new Map<string, number>();
  const tried = new Set<string>();
  let [cards, readings] = [0, 0];
  let next = port.next();
  const ended = (closed: boolean, stuck: readonly string[] = []): LiteralRun => {
    return { closed, stuck, odd, refused, slips, cards, readings };
  };
  for (let actions = 0; actions < 2000; actions++) {
    if (next.closed) return ended(true);
    if (next.person === null) {
      next = after(
        port,
        port.act({ do: 'start-shift', name: 'Robin Vale', instrument: 'bench meter 3', zero: '0.2' }),
      );
      continue;
    }
    const picked = next.closeNeeds.length === 0 ? null : pick(next, tries, false);
    const step = picked === null ? null : read(picked);
    if (step === null) {
      const way = wayOut(next, tried);
      if (way === null) {
        next = after(
          port,
          port.act({ do: 'close', signatures: [{ name: 'Robin Vale', role: 'installer' }] }),
        );
        return next.closed
          ? ended(true)
          : ended(false, next.closeNeeds.length > 0 ? next.closeNeeds : next.locked.map(({ says }) => says));
      }
      tried.add(`${way.do} ${way.step}`);
      next = after(port, port.act(way));
      continue;
    }
    tries.set(step.id, (tries.get(step.id) ?? 0) + 1);
    cards += 1;
    const left = step.hard || step.repeatable ? new Set<number>() : leavesOut(step);
    if (left.size > 0) {
      next = after(port, port.act(leaveOut(literal, step, left)));
      slips.push(step.id);
      continue;
    }
    readings += step.proof.filter(({ kind }) => kind === 'reading' || kind === 'sweep').length;
    const acted = confirm(port, step.id, values(literal, step, odd));
    next = after(port, acted);
    const isGivenUp =
      'outcome' in acted && acted.outcome === 'failed' && !step.hard && tries.get(step.id)! >= MOST_TRIES;
    if (isGivenUp) next = after(port, port.act(deviation(step.id)));
    if (!('outcome' in acted)) refused.push(`${step.id}: ${JSON.stringify(acted).slice(0, 200)}`);
    else if (acted.outcome === 'failed' || acted.causes.some(({ cause }) => cause !== 'induced-voltage'))
      odd.push({
        step: step.id,
        field: acted.outcome,
        value: '',
        says: acted.causes.map(({ cause }) => cause).join(' '),
      });
  }
  return ended(false, ['went in circles']);
}

/** Does a card but for some of its acts, and says so. */
function leaveOut(
  literal: Literal,
  step: OpenStep,
  left: ReadonlySet<number>,
): Extract<Action, { do: 'deviate' }> {
  const before = literal.troubles.length;
  step.acts.forEach((one, index) => {
    if (!left.has(index)) doAct(literal, step.id, one);
  });
  // What cannot be done once something else was left out is no fault of the card.
  literal.troubles.splice(before);
  return {
    do: 'deviate',
    step: step.id,
    reason: 'It could not be reached today.',
    residualRisk: 'It is not as it was planned.',
    acts: step.acts.map(({ key }, index) => ({ act: key ?? '', how: left.has(index) ? 'not-done' : 'done' })),
  };
}

function values(literal: Literal, step: OpenStep, odd: Odd[]): Record<string, TypedValue> {
  const typed = onBattery(literal, step, () => workLiterally(literal, step));
  const outside = outsideOf(step, typed);
  // What a cable picks up from the mains beside it is natural, where the second reading says so.
  if (!outside.has('ac-loaded')) outside.delete('ac');
  const field = [...outside].find(([, how]) => how === 2)?.[0] ?? [...outside.keys()][0];
  if (field === undefined) return typed;
  const value = typed[field];
  const proof = step.proof.find((one) => one.field === field);
  odd.push({
    step: step.id,
    field,
    value: typeof value === 'object' ? value.greatest : (value ?? ''),
    says: proof !== undefined && 'min' in proof ? `${proof.min} to ${proof.max}` : '',
  });
  return typed;
}

/** A board runs on its battery once its adapter is pulled, which the card says and no act does. */
function onBattery<T>({ visit, troubles }: Literal, step: OpenStep, work: () => T): T {
  const board = /^walk\.mains-failure\.(.+)$/.exec(step.id)?.[1];
  if (board === undefined || step.acts.length > 0) return work();
  const { building } = visit;
  visit.building = act(building, { do: 'isolate', source: `adapter:${board}` });
  troubles.push({ step: step.id, kind: 'unsaid', says: 'isolate: no act pulls the adapter' });
  const value = work();
  visit.building = building;
  return value;
}

function confirm(port: Port, step: string, typed: Readonly<Record<string, TypedValue>>): Acted {
  const acknowledge: string[] = [];
  for (;;) {
    const acted = port.act({ do: 'confirm', step, values: typed, acknowledge });
    if (!('challenge' in acted) || acknowledge.includes(acted.challenge) || acknowledge.length > 5)
      return acted;
    acknowledge.push(acted.challenge);
  }
}

function after(port: Port, acted: Acted): Next {
  return 'next' in acted ? acted.next : port.next();
}
