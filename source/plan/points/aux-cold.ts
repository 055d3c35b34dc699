import type { Board } from '../../site/board.ts';
import type { Plan } from '../plan.ts';

/** Ohms between two of a board's screws before it has power; less than `leastOhms` is a fault. */
type ColdReading = { readonly between: readonly [string, string]; readonly leastOhms: number };

type AuxCold = {
  readonly across: ColdReading;
  /** From aux positive to each input whose loop a supply pair runs beside, by input. */
  readonly beside: readonly (ColdReading & { readonly input: string })[];
};

/** The meter's own share of doubt. */
const METER_SHARE = 0.01;

/**
 * What is read across a board's aux and from aux to its loops before power: aux must carry its loads and no
 * short, and a damaged cable must not put aux on an input. A touch that the input would notice lies well below
 * half its pull-up.
 */
export function auxColdReadings(plan: Plan, board: Board): AuxCold {
  const plus = `${board.id}:${board.aux.positive}`;
  const fed = plan.supply.find((one) => one.board === board.id)?.devices ?? [];
  const powered = new Set(fed.map(({ id }) => id));
  const cableOf = new Map(plan.survey.detectors.map(({ id, cable }) => [id, cable]));
  const withSupply = new Set(
    plan.wiring.conductors.filter(({ use }) => use === 'aux-positive').map(({ cable }) => cable),
  );
  const hasSupplyBeside = (id: string) => powered.has(id) || withSupply.has(cableOf.get(id) ?? '');
  return {
    across: {
      between: [plus, `${board.id}:${board.aux.negative}`],
      leastOhms: round((board.aux.mainsVolts / board.aux.amps) * (1 - METER_SHARE)),
    },
    beside: plan.circuits
      .filter((circuit) => circuit.board === board.id && circuit.detectors.some(hasSupplyBeside))
      .map(({ input, terminal }) => ({
        input,
        between: [plus, `${board.id}:${terminal}`],
        leastOhms: round(board.sensing.pullUpOhms / 2),
      })),
  };
}

const round = (value: number) => Math.round(value * 100) / 100;
