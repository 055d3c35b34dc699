import {
  COPPER,
  type Conductor,
  cableLoopOhms,
  maxOhmsPerMetre,
  ohmsPerMetre,
} from '../../electrical/conductor.ts';
import { exactly } from '../../electrical/interval.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import { type Answer, figure, type Working } from './answer.ts';
import type { Inputs } from './inputs.ts';

/** A run of cable as both `wire` and `drop` ask for it. */
export type Run = {
  readonly conductor: Conductor;
  readonly metres: number;
  readonly celsius: number;
  readonly loopOhms: number;
  readonly maxLoopOhms: number;
};

/**
 * The run that was asked about: lengths in m, temperature in °C (20 where none is given), its loop
 * resistance in Ω out and back.
 */
export function readRun(inputs: Inputs): Run {
  const conductor = inputs.conductor('conductor');
  const metres = inputs.quantity('length', 'metres');
  const celsius = inputs.quantityOr('temperature', 'celsius', COPPER.atCelsius);
  const loop = cableLoopOhms(conductor, exactly(metres), celsius);
  return { conductor, metres, celsius, loopOhms: loop.nominal, maxLoopOhms: loop.max };
}

/** How the loop resistance of a run comes about. */
export function runWorking({ conductor, metres, celsius, loopOhms }: Run): Working {
  const area = figure(conductor.areaSquareMillimetres);
  const size =
    conductor.system === 'awg' ? 'ASTM B258 (diameter of the gauge)' : 'the nominal area of the conductor';
  return {
    formula: 'R = 2 · L · ρ / A · (1 + α · (T − 20 °C)), out and back',
    figures: `= 2 · ${figure(metres)} m · ${COPPER.resistivity} Ω·mm²/m / ${area} mm² · (1 + ${COPPER.perKelvin}/K · ${figure(celsius - 20)} K) = ${figure(loopOhms)} Ω`,
    source: `IEC 60028 (ρ and α of annealed copper at 20 °C); ${size}`,
  };
}

function maxWorking({ conductor, metres, celsius, maxLoopOhms }: Run): Working {
  const perKilometre = figure(maxOhmsPerMetre(conductor, celsius) * 1000);
  return {
    formula: 'R at most = 2 · L · the most a metre may have',
    figures: `= 2 · ${figure(metres)} m · ${perKilometre} Ω/km = ${figure(maxLoopOhms)} Ω`,
    source:
      conductor.system === 'awg'
        ? 'NFPA 70 Ch. 9 Table 8: stranded is 2.5 % above solid'
        : 'IEC 60228 class 5, below 0.5 mm² DIN VDE 0295',
  };
}

/** The resistance of a cable, per metre of one conductor and out and back. */
export function computeWire(inputs: Inputs): Answer {
  const run = readRun(inputs);
  const { conductor, celsius, loopOhms, maxLoopOhms } = run;
  const shown = (ohms: number) => formatQuantity(ohms, 'ohms');
  return {
    says: `${inputs.text('length')} of ${conductor.name} is ${shown(loopOhms)} out and back at ${formatQuantity(celsius, 'celsius')}, and at most ${shown(maxLoopOhms)}.`,
    working: [runWorking(run), maxWorking(run)],
    json: {
      ohmsPerMetre: ohmsPerMetre(conductor, celsius),
      maxOhmsPerMetre: maxOhmsPerMetre(conductor, celsius),
      loopOhms,
    },
  };
}
