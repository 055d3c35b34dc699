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

/**
 * The least that may lie between aux and the wire of an input, in ohms: less, and with its contact open aux puts more on the
 * input than it stands, through its pull-up's reference. Infinity where the reference alone is as much.
 *
 * @example leakOhms({ aux: { mainsVolts: 13.7, mainsTolerance: 0 }, sensing: { pullUpOhms: 10000, pullUpTolerance: 0, referenceVolts: 3.3, inputMaximumVolts: 5 } }) // => 51176
 */
export function leakOhms({ aux, sensing }: Leaking): number {
  const fromAux = aux.mainsVolts * (1 + aux.mainsTolerance) - sensing.inputMaximumVolts;
  const toReference = sensing.inputMaximumVolts - sensing.referenceVolts;
  if (fromAux <= 0) return 0;
  if (toReference <= 0) return Number.POSITIVE_INFINITY;
  return Math.round((sensing.pullUpOhms * (1 + sensing.pullUpTolerance) * fromAux) / toReference);
}

type Leaking = {
  readonly aux: Pick<Board['aux'], 'mainsVolts' | 'mainsTolerance'>;
  readonly sensing: Pick<
    Board['sensing'],
    'pullUpOhms' | 'pullUpTolerance' | 'referenceVolts' | 'inputMaximumVolts'
  >;
};

const round = (value: number) => Math.round(value * 100) / 100;
