import { and, assign, setup, stateIn } from 'xstate';
import { GUARDS, type Guard } from './guards.ts';
import { isPermitted } from './reasons.ts';
import { initialContext, settle } from './settle.ts';
import type { JobContext, JobEvent, Owed } from './state.ts';
import type { Procedure, SupplyState } from './step.ts';
import { isCauseMet, SUPPLY_MOVES, type SupplyCause } from './supply.ts';

const SUPPLY_STATES: readonly SupplyState[] = ['live', 'isolating', 'dead', 'unproven', 'energised'];

/**
 * The machine of one job: the supply beside the work. It closes over the steps; it starts nothing, waits for
 * nothing and reads no clock, so that replaying a journal is applying its events.
 *
 * @param guards the table of gates; handed in only to show that each of its entries is needed
 */
export function jobMachine(procedure: Procedure, guards: readonly Guard[] = GUARDS) {
  const parts = setup({
    types: { context: {} as JobContext, events: {} as JobEvent },
    guards: {
      permitted: ({ context, event }, { supply }: { supply: SupplyState }) =>
        isPermitted(procedure, { supply, job: 'open', context }, event, guards),
      means: ({ event }, { cause }: { cause: SupplyCause }) => isCauseMet(procedure, cause, event),
    },
    actions: {
      owe: assign((_, { owed }: { owed: Owed }) => ({ owed })),
      settle: assign(({ context, event }, { supply }: { supply: SupplyState }) =>
        settle(procedure, supply, context, event),
      ),
    },
  });

  const permitted = (supply: SupplyState) =>
    and([stateIn({ job: 'open' }), { type: 'permitted', params: { supply } }]);
  const settles = (supply: SupplyState) => ({ type: 'settle' as const, params: { supply } });
  // What moves the supply comes first; whatever else is let through settles and leaves the supply as it is.
  const transitions = (supply: SupplyState, on: JobEvent['type']) => [
    ...SUPPLY_MOVES.filter((move) => move.on === on && move.from.includes(supply)).map((move) => ({
      guard: and([{ type: 'means', params: { cause: move.cause } }, permitted(supply)]),
      target: move.to,
      actions: [settles(supply), { type: 'owe' as const, params: { owed: move.owed } }],
    })),
    { guard: permitted(supply), actions: settles(supply) },
  ];
  const state = (supply: SupplyState) => ({
    on: {
      begin: transitions(supply, 'begin'),
      confirm: transitions(supply, 'confirm'),
      fail: transitions(supply, 'fail'),
      deviate: transitions(supply, 'deviate'),
      reopen: transitions(supply, 'reopen'),
      'start-shift': transitions(supply, 'start-shift'),
      interrupted: transitions(supply, 'interrupted'),
      doubt: transitions(supply, 'doubt'),
      pause: transitions(supply, 'pause'),
      leave: transitions(supply, 'leave'),
    },
  });

  return parts.createMachine({
    id: 'job',
    type: 'parallel',
    context: initialContext(procedure),
    states: {
      supply: {
        initial: 'live',
        states: {
          live: state('live'),
          isolating: state('isolating'),
          dead: state('dead'),
          unproven: state('unproven'),
          energised: state('energised'),
        },
      },
      job: {
        initial: 'open',
        states: {
          open: {
            on: {
              close: SUPPLY_STATES.map((supply) => ({
                guard: and([stateIn({ supply }), { type: 'permitted', params: { supply } }]),
                target: 'closed',
              })),
            },
          },
          closed: {},
        },
      },
    },
  });
}

export type JobMachine = ReturnType<typeof jobMachine>;
