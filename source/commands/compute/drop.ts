import { exactly } from '../../electrical/interval.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import { solveSupplyTree } from '../../electrical/supply.ts';
import { Ending } from '../exit.ts';
import { type Answer, figure } from './answer.ts';
import type { Inputs } from './inputs.ts';
import { readRun, runWorking } from './wire.ts';

/** What a load at the end of one cable is left with. */
export function computeDrop(inputs: Inputs): Answer {
  const run = readRun(inputs);
  const amps = inputs.quantity('current', 'amps');
  const sourceVolts = inputs.quantity('source', 'volts');
  if (sourceVolts === 0)
    throw new Ending('usage', '--source is 0 V. Give the voltage the cable starts from.');
  const endVolts = solveSupplyTree({
    source: exactly(sourceVolts),
    branches: [
      {
        id: 'run',
        loopOhms: exactly(run.loopOhms),
        loads: [{ id: 'load', amps: exactly(amps) }],
        branches: [],
      },
    ],
  }).get('load')!.nominal;
  const dropVolts = run.loopOhms * amps;
  const dropPercent = (dropVolts / sourceVolts) * 100;
  const volts = (value: number) => formatQuantity(value, 'volts');
  const says =
    endVolts > 0
      ? `${volts(dropVolts)} is lost on the way (${figure(dropPercent, 3)} %): ${volts(endVolts)} is left of ${volts(sourceVolts)}.`
      : `This cable cannot carry ${formatQuantity(amps, 'amps')}: ${volts(dropVolts)} would be lost of ${volts(sourceVolts)}.`;
  return {
    says,
    working: [
      runWorking(run),
      {
        formula: 'V at the end = V of the source − R · I',
        figures: `= ${figure(sourceVolts)} V − ${figure(run.loopOhms)} Ω · ${figure(amps)} A = ${figure(endVolts)} V`,
        source: "Ohm's law, the point-to-point method; both conductors counted",
      },
    ],
    json: { loopOhms: run.loopOhms, dropVolts, endVolts, dropPercent },
  };
}
