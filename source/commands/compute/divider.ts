import { formatQuantity } from '../../electrical/quantity.ts';
import { inputReads, inputVolts, sensingLimits } from '../../electrical/sensing.ts';
import { Ending } from '../exit.ts';
import { type Answer, figure } from './answer.ts';
import type { Inputs } from './inputs.ts';

/** What an input makes of a resistance across it. */
export function computeDivider(inputs: Inputs): Answer {
  const ohms = inputs.quantity('resistance', 'ohms');
  const sensing = {
    pullUpOhms: inputs.quantity('pull-up', 'ohms'),
    referenceVolts: inputs.quantity('reference', 'volts'),
    closedBelowVolts: inputs.quantity('closed-below', 'volts'),
    openAboveVolts: inputs.quantity('open-above', 'volts'),
  };
  const { pullUpOhms, referenceVolts, closedBelowVolts, openAboveVolts } = sensing;
  if (!(pullUpOhms > 0 && Number.isFinite(pullUpOhms))) {
    throw new Ending(
      'usage',
      '--pull-up must be a resistance above zero. Read it in the board’s description.',
    );
  }
  if (!(closedBelowVolts <= openAboveVolts && openAboveVolts < referenceVolts)) {
    throw new Ending(
      'usage',
      '--closed-below, --open-above and --reference must rise in this order. Check the three voltages.',
    );
  }
  const volts = inputVolts(ohms, sensing);
  const reads = inputReads(ohms, sensing);
  const { maxClosedOhms, minOpenOhms } = sensingLimits(sensing);
  const shown = (value: number) => formatQuantity(value, 'ohms');
  const words = {
    closed: 'reads closed',
    open: 'reads open',
    between: 'falls between the two and may read either',
  };
  return {
    says: `${shown(ohms)} gives ${formatQuantity(volts, 'volts')} and ${words[reads]}: closed is below ${shown(maxClosedOhms)}, open above ${shown(minOpenOhms)}.`,
    working: [
      {
        formula: 'V = V reference · R / (R + R pull-up)',
        figures: Number.isFinite(ohms)
          ? `= ${figure(referenceVolts)} V · ${figure(ohms)} Ω / (${figure(ohms)} Ω + ${figure(pullUpOhms)} Ω) = ${figure(volts)} V`
          : `= ${figure(referenceVolts)} V: no current flows through an open circuit`,
        source: 'voltage divider',
      },
      {
        formula: 'R at a threshold = R pull-up · V / (V reference − V)',
        figures: `closed below ${figure(maxClosedOhms)} Ω, open above ${figure(minOpenOhms)} Ω`,
        source: 'the same divider turned round; pull-up taken as exact',
      },
    ],
    json: { volts, reads, maxClosedOhms, minOpenOhms },
  };
}
