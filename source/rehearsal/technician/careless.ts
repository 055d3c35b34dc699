import type { Acted, Action, Next, OpenStep, TypedValue } from '../../job/action.ts';
import type { Proof } from '../../procedure/step.ts';
import type { Random } from '../building/random.ts';
import { workCard } from './card.ts';
import { pick } from './next-card.ts';
import type { Visit } from './visit.ts';
import type { Port } from './work.ts';

type Carelessness = {
  readonly actions: number;
  /** What was tried against the order of the work, and how often it was let through or refused. */
  readonly tried: Readonly<Record<string, { readonly refused: number; readonly taken: number }>>;
  readonly closed: boolean;
};

/** How often, of a hundred turns, each kind of carelessness comes up; otherwise the next card is done well. */
const HABITS = {
  'confirms a step that is locked': 12,
  'gives up a hard step': 5,
  'types the expected figure': 12,
  'goes on after a break': 8,
  'somebody else goes on': 4,
  'opens what was done': 4,
  'closes early': 3,
  'says that a step failed': 2,
} as const;
type Habit = keyof typeof HABITS;

/** Works on a job as one should not, for so many actions or until it is closed. Nothing is put right. */
export function carryOutCarelessly(port: Port, visit: Visit, random: Random, most: number): Carelessness {
  const tried: Record<string, { refused: number; taken: number }> = {};
  const cards = new Map<string, OpenStep>();
  let next = port.next();
  let actions = 0;
  const act = (action: Action): Acted => {
    actions += 1;
    const acted = port.act(action);
    next = 'next' in acted ? acted.next : port.next();
    return acted;
  };
  act({ do: 'start-shift', name: 'Robin Vale', instrument: 'bench meter 3' });
  while (actions < most && !next.closed) {
    for (const step of next.open) cards.set(step.id, step);
    const habit = habitOf(random);
    const careless = habit === null ? null : actionOf(habit, next, cards, random);
    if (habit === null || careless === null) {
      const step = pick(next, new Map(), random.next() < 0.1) ?? next.open[0];
      if (step === undefined) act({ do: 'close', signatures: [{ name: 'Robin Vale', role: 'installer' }] });
      else act({ do: 'confirm', step: step.id, values: workCard(visit, step), acknowledge: ALL });
      continue;
    }
    const counted = tried[habit] ?? { refused: 0, taken: 0 };
    tried[habit] = counted;
    const acted = act(careless);
    if ('outcome' in acted) counted.taken += 1;
    else counted.refused += 1;
  }
  return { actions, tried, closed: next.closed };
}

const ALL = ['looks-like-a-code', 'typed-too-soon', 'wrong-multiple'];

function habitOf(random: Random): Habit | null {
  let left = random.next() * 100;
  for (const [habit, share] of Object.entries(HABITS)) {
    left -= share;
    if (left < 0) return habit as Habit;
  }
  return null;
}

function actionOf(
  habit: Habit,
  next: Next,
  cards: ReadonlyMap<string, OpenStep>,
  random: Random,
): Action | null {
  const someone = (ids: readonly string[]) => (ids.length === 0 ? null : random.pick(ids));
  switch (habit) {
    case 'confirms a step that is locked': {
      const step = someone(next.locked.map(({ id }) => id));
      const card = step === null ? undefined : cards.get(step);
      return step === null
        ? null
        : { do: 'confirm', step, values: hopedFor(card?.proof ?? []), acknowledge: ALL };
    }
    case 'gives up a hard step': {
      const step = someone(next.open.filter(({ hard }) => hard).map(({ id }) => id));
      return step === null
        ? null
        : { do: 'deviate', step, reason: 'It takes too long.', residualRisk: 'None that I know.' };
    }
    case 'types the expected figure': {
      const step = next.open[0];
      return step === undefined
        ? null
        : { do: 'confirm', step: step.id, values: hopedFor(step.proof), acknowledge: ALL };
    }
    case 'goes on after a break':
      return random.next() < 0.5 ? { do: 'pause', reason: 'Lunch.' } : { do: 'doubt' };
    case 'somebody else goes on':
      return {
        do: 'start-shift',
        name: random.pick(['Kim Marsh', 'Robin Vale']),
        instrument: 'another meter',
      };
    case 'opens what was done': {
      const step = someone(next.doneSteps);
      return step === null ? null : { do: 'reopen', step, reason: 'Looked at again.' };
    }
    case 'closes early':
      return { do: 'close', signatures: [{ name: 'Robin Vale', role: 'installer' }] };
    case 'says that a step failed': {
      const step = someone(next.open.map(({ id }) => id));
      return step === null ? null : { do: 'fail', step, reason: 'Something was not right.' };
    }
  }
}

/** Answers that fit, without a look at anything. */
function hopedFor(proofs: readonly Proof[]): Record<string, TypedValue> {
  return Object.fromEntries(
    proofs.flatMap((proof): [string, TypedValue][] => {
      if (proof.kind === 'reading' && proof.when !== undefined) return [];
      return [[proof.field, hopedAnswer(proof)]];
    }),
  );
}

function hopedAnswer(proof: Proof): TypedValue {
  switch (proof.kind) {
    case 'reading':
      return proof.nominal === null ? (proof.of === 'ohms' ? 'OL' : '0') : String(proof.nominal);
    case 'sweep':
      return { greatest: '0', at: proof.points[0] ?? '', points: proof.points.length };
    case 'choice':
      return (proof.options.find(({ leads }) => leads !== 'fail') ?? proof.options[0])?.id ?? '';
    case 'text':
      return proof.offers[0] ?? (proof.numeric ? '12' : 'as it was');
    case 'observation':
      return proof.expect;
  }
}
