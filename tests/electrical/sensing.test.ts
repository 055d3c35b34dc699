import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  contactAmps,
  inputReads,
  inputVolts,
  sensingLimits,
  usableClosed,
  usableOpen,
} from '../../source/electrical/sensing.ts';
import { between, betweenMagnitudes, SEED } from './draw.ts';

const input = { pullUpOhms: 10_000, referenceVolts: 3.3, closedBelowVolts: 0.8, openAboveVolts: 2 };

describe('limits of an input', () => {
  test('3.3 V over 10 kΩ reads closed below 3.2 kΩ and open above 15.4 kΩ', () => {
    // By hand: 10 k · 0.8 / 2.5 and 10 k · 2 / 1.3.
    expect(sensingLimits(input)).toEqual({ maxClosedOhms: 3200, minOpenOhms: expect.closeTo(15_384.6, 1) });
  });

  test('at its limits the input stands at its thresholds', () => {
    const { maxClosedOhms, minOpenOhms } = sensingLimits(input);
    expect(inputVolts(maxClosedOhms, input)).toBeCloseTo(0.8, 9);
    expect(inputVolts(minOpenOhms, input)).toBeCloseTo(2, 9);
  });

  test('the tolerance of the pull-up draws both limits in', () => {
    const { maxClosedOhms, minOpenOhms } = sensingLimits({ ...input, pullUpTolerance: 0.05 });
    expect(maxClosedOhms).toBeCloseTo(3200 * 0.95, 6);
    expect(minOpenOhms).toBeCloseTo(15_384.6 * 1.05, 0);
  });

  test('what lifts a shared return makes closed harder and never easier', () => {
    // By hand: (0.8 − 0.3) V over 2.5 V of 10 kΩ; the rise is what alarm current makes of the common core.
    expect(sensingLimits(input, 0.3).maxClosedOhms).toBeCloseTo(2000, 6);
    expect(sensingLimits(input, 0.9).maxClosedOhms).toBe(0);
    expect(sensingLimits(input, 0.3).minOpenOhms).toBe(sensingLimits(input).minOpenOhms);
  });

  test(`a loop within the limits reads so for every pull-up within its tolerance (seed ${SEED})`, () => {
    fc.assert(
      fc.property(
        betweenMagnitudes(1, 1e7),
        between(-1, 1),
        between(0.01, 0.2),
        (ohms, gain, pullUpTolerance) => {
          const reads = inputReads(ohms, { ...input, pullUpTolerance });
          const true10k = { ...input, pullUpOhms: input.pullUpOhms * (1 + gain * pullUpTolerance) };
          const volts = inputVolts(ohms, true10k);
          if (reads === 'closed') return volts < input.closedBelowVolts + 1e-9;
          if (reads === 'open') return volts > input.openAboveVolts - 1e-9;
          return true;
        },
      ),
      { seed: SEED, numRuns: 2000 },
    );
  });
});

describe('usable windows', () => {
  test('closed leaves half the margin, open needs ten times the limit and 1 MΩ at least', () => {
    expect(usableClosed(input)).toEqual({ min: 0, max: 1600 });
    expect(usableOpen(input)).toEqual({ min: 1e6, max: Number.POSITIVE_INFINITY });
    const high = { ...input, pullUpOhms: 100_000 };
    expect(usableOpen(high).min).toBeCloseTo(1_538_461.5, 0);
  });
});

test('a resistor left in reads closed, open or falls between, by its value', () => {
  expect([2200, 4700, 22_000, Number.POSITIVE_INFINITY].map((ohms) => inputReads(ohms, input))).toEqual([
    'closed',
    'between',
    'open',
    'open',
  ]);
});

test('the current through a closed contact is that of the pull-up', () => {
  // Divider table: 12 V over 2.2 kΩ drives 5.4545 mA through a closed loop, 3.75 mA through 1 kΩ.
  expect(contactAmps({ pullUpOhms: 2200, referenceVolts: 12 })).toBeCloseTo(0.0054545, 7);
  expect(contactAmps({ pullUpOhms: 2200, referenceVolts: 12 }, 1000)).toBeCloseTo(0.00375, 9);
});
