import type { Acted, Action, Next, OpenStep, TypedValue } from '../../job/action.ts';
import { actKey } from '../../procedure/act-words.ts';
import { workCard } from './card.ts';
import { follow, putRight } from './follow.ts';
import { deviation, MOST_TRIES, pick, wayOut } from './next-card.ts';
import type { Visit } from './visit.ts';

/** A job as somebody works on it: what stands open, and one action after the other. */
export type Port = { readonly next: () => Next; readonly act: (action: Action) => Acted };

/** One thing that a reading gave away. */
type Catch = {
  readonly step: string;
  readonly stage: string;
  readonly outcome: 'failed' | 'passed' | 'recorded';
  readonly causes: readonly string[];
  /** The rank of each of them: what the answers cannot tell apart shares one. */
  readonly ranks: readonly number[];
  /** The faults that were found by it and put right. */
  readonly found: readonly string[];
};

export type Worked = {
  readonly closed: boolean;
  /** Why it could not go on, where it could not. */
  readonly stuck: readonly string[];
  readonly catches: readonly Catch[];
  readonly confirmations: number;
  readonly readings: number;
  readonly deviated: readonly string[];
  readonly refusals: readonly string[];
};

/** More actions than any job takes: whoever gets here goes in circles. */
const MOST_ACTIONS = 3000;
/**
 * Carries out a job in a building, from where it stands to its end.
 *
 * @param watch is shown every card before it is carried out
 */
export function carryOut(port: Port, visit: Visit, watch: (step: OpenStep) => void = () => {}): Worked {
  const catches: Catch[] = [];
  const deviated: string[] = [];
  const refusals: string[] = [];
  const tries = new Map<string, number>();
  const tried = new Set<string>();
  let [confirmations, readings] = [0, 0];
  let metVoltage = false;
  let next = port.next();
  const worked = (closed: boolean, stuck: readonly string[] = []): Worked => ({
    closed,
    stuck,
    catches,
    confirmations,
    readings,
    deviated,
    refusals,
  });

  for (let actions = 0; actions < MOST_ACTIONS; actions++) {
    if (next.closed) return worked(true);
    if (next.person === null) {
      next = after(
        port,
        port.act({ do: 'start-shift', name: 'Robin Vale', instrument: 'bench meter 3', zero: '0.2' }),
      );
      continue;
    }
    const step: OpenStep | null = next.closeNeeds.length === 0 ? null : pick(next, tries, metVoltage);
    if (step === null) {
      const way = wayOut(next, tried);
      if (way !== null) {
        tried.add(`${way.do} ${way.step}`);
        if (way.do === 'deviate') deviated.push(way.step);
        next = after(port, port.act(way));
        continue;
      }
      const closing = port.act({ do: 'close', signatures: [{ name: 'Robin Vale', role: 'installer' }] });
      next = after(port, closing);
      if (next.closed) return worked(true);
      return worked(
        false,
        next.closeNeeds.length > 0 ? next.closeNeeds : next.locked.map(({ says }) => says),
      );
    }
    tries.set(step.id, (tries.get(step.id) ?? 0) + 1);
    watch(step);
    const before = visit.building;
    const values = workCard(visit, step);
    const acted = confirm(port, step.id, values);
    confirmations += 1;
    readings += step.proof.filter(({ kind }) => kind === 'reading' || kind === 'sweep').length;
    next = after(port, acted);
    if (!('outcome' in acted)) {
      refusals.push(`${step.id}: ${refusalOf(acted)}`);
      continue;
    }
    const { outcome, causes } = acted;
    metVoltage = outcome === 'failed' && step.id.startsWith('supply.prove');
    if (outcome !== 'failed' && causes.length === 0) continue;
    const found = follow(visit, { step, before, values }, causes);
    // What did not pass is undone, and done again when it is tried again.
    if (outcome === 'failed') visit.building = { ...before, harm: visit.building.harm };
    for (const fault of found) {
      const said = putRight(port, visit, fault, step.id);
      if (!('outcome' in said)) refusals.push(`${fault.name}: ${refusalOf(said)}`);
    }
    // A corrected survey makes other cards of those that were tried.
    if (found.some(({ placed }) => placed.mend.by === 'survey')) tries.clear();
    catches.push({
      step: step.id,
      stage: step.stage,
      outcome,
      causes: causes.map(({ cause }) => cause),
      ranks: causes.map(({ rank }, at) => rank ?? at + 1),
      found: found.map(({ name }) => name),
    });
    next = port.next();
    if (outcome !== 'failed' || (tries.get(step.id) ?? 0) < MOST_TRIES || step.hard) continue;
    // Given up is the proof, not the work.
    workCard(visit, step);
    deviated.push(step.id);
    const acts = step.acts.map((act) => ({ act: actKey(act), how: 'done' as const }));
    next = after(port, port.act({ ...deviation(step.id), acts }));
  }
  return worked(false, ['went in circles']);
}

/** What looks like a mistake and is none is said to be so, once. */
function confirm(port: Port, step: string, values: Readonly<Record<string, TypedValue>>): Acted {
  const acknowledge: string[] = [];
  for (;;) {
    const acted = port.act({ do: 'confirm', step, values, acknowledge });
    if (!('challenge' in acted) || acknowledge.includes(acted.challenge) || acknowledge.length > 5)
      return acted;
    acknowledge.push(acted.challenge);
  }
}

function refusalOf(acted: Acted): string {
  if ('refused' in acted) return acted.because.join(' ');
  return 'malformed' in acted ? acted.malformed : JSON.stringify(acted).slice(0, 200);
}

function after(port: Port, acted: Acted): Next {
  return 'next' in acted ? acted.next : port.next();
}
