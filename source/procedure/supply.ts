import { isIsolation, lookUp } from './lookup.ts';
import type { JobEvent, Owed } from './state.ts';
import type { Procedure, Step, SupplyState } from './step.ts';

/** Whether a failed proof of this step means that a voltage stands where none may be. */
export function looksForVoltage(step: Step): boolean {
  if (step.needs !== 'dead' || step.effect === 'energise') return false;
  return step.proof.some(
    (proof) => (proof.kind === 'sweep' || (proof.kind === 'reading' && proof.danger)) && proof.of !== 'ohms',
  );
}

type Asked = { readonly procedure: Procedure; readonly event: JobEvent; readonly step: Step | null };

const passed = ({ event }: Asked) => event.type === 'confirm' && event.verdict !== 'failed';
const notPassed = ({ event }: Asked) =>
  event.type === 'fail' || (event.type === 'confirm' && event.verdict === 'failed');

/** What an event means for the supply. */
const CAUSES_OF_MOVES = {
  'isolating step passed': (asked: Asked) => passed(asked) && asked.step?.effect === 'isolate',
  'full proof passed': (asked: Asked) => passed(asked) && asked.step?.effect === 'prove',
  'short proof passed': (asked: Asked) => passed(asked) && asked.step?.effect === 'prove-short',
  'energising step passed': (asked: Asked) => passed(asked) && asked.step?.effect === 'energise',
  'energising step not passed': (asked: Asked) => notPassed(asked) && asked.step?.effect === 'energise',
  'proof met a voltage': (asked: Asked) =>
    notPassed(asked) && (asked.step?.effect === 'prove' || asked.step?.effect === 'prove-short'),
  'voltage where none may be': (asked: Asked) =>
    notPassed(asked) && asked.step !== null && looksForVoltage(asked.step),
  'longer gap, same sitting': ({ event }: Asked) => event.type === 'interrupted' && event.why === 'gap',
  'any other interruption': ({ event }: Asked) => event.type === 'interrupted' && event.why !== 'gap',
  'isolation reopened': (asked: Asked) => reopensIsolation(asked),
  always: () => true,
} as const;

export type SupplyCause = keyof typeof CAUSES_OF_MOVES;

type SupplyMove = {
  readonly from: readonly SupplyState[];
  readonly on: JobEvent['type'];
  readonly cause: SupplyCause;
  readonly to: SupplyState;
  readonly owed: Owed;
};

const PERISHES: readonly SupplyState[] = ['dead', 'unproven'];
const perishes = (on: JobEvent['type'], cause: SupplyCause = 'always'): SupplyMove => ({
  from: PERISHES,
  on,
  cause,
  to: 'unproven',
  owed: 'full',
});

/**
 * Every way the supply's state can change; there is no other. What was proved dead perishes: with a new sitting,
 * another person, a break or a doubt (29 CFR 1910.147(d)(6) and (f)(4); HSE HSG85, whose year, 2013, is from memory:
 * prove, test, prove, each time).
 */
export const SUPPLY_MOVES: readonly SupplyMove[] = [
  {
    from: ['live', 'isolating', 'unproven', 'energised'],
    on: 'confirm',
    cause: 'isolating step passed',
    to: 'isolating',
    owed: 'none',
  },
  { from: ['isolating', 'unproven'], on: 'confirm', cause: 'full proof passed', to: 'dead', owed: 'none' },
  { from: ['unproven'], on: 'confirm', cause: 'short proof passed', to: 'dead', owed: 'none' },
  { from: ['unproven'], on: 'confirm', cause: 'proof met a voltage', to: 'isolating', owed: 'none' },
  { from: ['unproven'], on: 'fail', cause: 'proof met a voltage', to: 'isolating', owed: 'none' },
  { from: ['dead'], on: 'confirm', cause: 'voltage where none may be', to: 'isolating', owed: 'none' },
  { from: ['dead'], on: 'fail', cause: 'voltage where none may be', to: 'isolating', owed: 'none' },
  { from: ['dead'], on: 'confirm', cause: 'energising step passed', to: 'energised', owed: 'none' },
  { from: ['dead'], on: 'confirm', cause: 'energising step not passed', to: 'unproven', owed: 'full' },
  { from: ['dead'], on: 'fail', cause: 'energising step not passed', to: 'unproven', owed: 'full' },
  { from: PERISHES, on: 'reopen', cause: 'isolation reopened', to: 'isolating', owed: 'none' },
  { from: ['dead'], on: 'interrupted', cause: 'longer gap, same sitting', to: 'unproven', owed: 'short' },
  perishes('interrupted', 'any other interruption'),
  perishes('start-shift'),
  perishes('doubt'),
  perishes('pause'),
  perishes('leave'),
];

/** Whether the event, once let through, moves the supply for this cause. */
export function isCauseMet(procedure: Procedure, cause: SupplyCause, event: JobEvent): boolean {
  const step = 'step' in event ? (lookUp(procedure).steps.get(event.step) ?? null) : null;
  return CAUSES_OF_MOVES[cause]({ procedure, event, step });
}

/** Reopening an isolation, or what it rests on, puts the isolation itself in question: prove in full again. */
function reopensIsolation({ procedure, event }: Asked): boolean {
  if (event.type !== 'reopen') return false;
  const { steps, dependents } = lookUp(procedure);
  return [event.step, ...(dependents.get(event.step) ?? [])].some((id) => {
    const step = steps.get(id);
    return step !== undefined && isIsolation(step);
  });
}
