import fc from 'fast-check';
import { exactly } from '../../source/electrical/interval.ts';
import type { Expression } from '../../source/electrical/loop.ts';
import { between, betweenMagnitudes } from './draw.ts';
import { build, partsOf, type RandomDetector, type RandomLoop, randomLoop } from './random-loop.ts';

/** A loop with one fault in it. `loop` is what the survey says; `trueLoop` is what the wall holds. */
export type FaultyCircuit = { readonly loop: RandomLoop; readonly cause: string; readonly wall: Expression };

const inRow = (...of: Expression[]): Expression => ({ kind: 'series', of });
const beside = (...of: Expression[]): Expression => ({ kind: 'parallel', of });
const ohmsOf = (ohms: number): Expression => ({ kind: 'cable', id: 'fault', ohms: exactly(ohms) });
const OPEN: Expression = { kind: 'open' };

/** Dice of a fault: where it is, and how large. */
type Dice = {
  readonly at: number;
  readonly along: number;
  readonly splice: number;
  readonly damp: number;
  readonly factor: number;
  readonly leads: number;
  readonly other: number;
  readonly usual: number;
};

const dice: fc.Arbitrary<Dice> = fc.record({
  at: fc.noBias(fc.integer({ min: 0, max: 2 })),
  along: between(0, 1),
  // Tens of ohms; tens of kilohms to megohms; metres read as three to five times themselves.
  splice: between(10, 120),
  damp: betweenMagnitudes(10_000, 5_000_000),
  factor: between(2, 5),
  leads: between(0.5, 4),
  other: between(0.95, 1.05),
  usual: fc.noBias(fc.integer({ min: 0, max: 9 })),
});

const USUAL = [1000, 2000, 2200, 3300, 3900, 4700, 5600, 6800, 8200, 10000];

type MakeFault = (loop: RandomLoop, roll: Dice) => Expression | null;

const at = (loop: RandomLoop, roll: Dice): RandomDetector => loop.detectors[roll.at % loop.detectors.length]!;
const wall = (loop: RandomLoop, parts: Partial<ReturnType<typeof partsOf>> = {}) =>
  build(loop, { ...partsOf('true'), ...parts });
const plainParts = partsOf('true');

function atContact(change: (contact: Expression, one: RandomDetector) => Expression): MakeFault {
  return (loop, roll) => {
    const where = at(loop, roll);
    return wall(loop, {
      contact: (one) => (one === where ? change(plainParts.contact(one), one) : plainParts.contact(one)),
    });
  };
}

function atCable(change: (cable: Expression, roll: Dice, one: RandomDetector) => Expression): MakeFault {
  return (loop, roll) => {
    const where = at(loop, roll);
    return wall(loop, {
      cable: (one) => (one === where ? change(plainParts.cable(one), roll, one) : plainParts.cable(one)),
    });
  };
}

function atResistor(change: (part: Expression, loop: RandomLoop, roll: Dice) => Expression): MakeFault {
  return (loop, roll) =>
    loop.resistor === null
      ? null
      : wall(loop, {
          resistor: (one) =>
            one === loop.resistor ? change(plainParts.resistor(one), loop, roll) : plainParts.resistor(one),
        });
}

const hasNone = (loop: RandomLoop) => loop.resistor === null && loop.contactResistors.length === 0;
const again = (loop: RandomLoop, roll: Dice) => ohmsOf(loop.resistor!.ohms * roll.other);

/** Every single fault that a loop by itself can have, made by hand and not by the code under test. */
export const FAULTS: Readonly<Record<string, MakeFault>> = {
  'contact-stuck-open': atContact(() => OPEN),
  'contact-bridged': atContact(() => ohmsOf(0.3)),
  'relay-unpowered': (loop, roll) => (at(loop, roll).isElectronic ? atContact(() => OPEN)(loop, roll) : null),
  'resistor-missing': atResistor((_, loop) => (loop.style === 'across' ? OPEN : ohmsOf(0.2))),
  'resistors-in-series': atResistor((part, loop, roll) => inRow(part, again(loop, roll))),
  'resistors-in-parallel': atResistor((part, loop, roll) => beside(part, again(loop, roll))),
  'resistor-at-detector': (loop, roll) =>
    loop.resistor === null ? null : inRow(wall(loop), again(loop, roll)),
  'resistor-value-differs': atResistor((_, __, roll) => ohmsOf(USUAL[roll.usual]! * roll.other)),
  'resistor-still-in': (loop, roll) =>
    hasNone(loop) ? inRow(wall(loop), ohmsOf(USUAL[roll.usual]! * roll.other)) : null,
  'cable-cut': atCable(() => OPEN),
  'cable-shorted': (loop, roll) => {
    const where = at(loop, roll);
    return wall(loop, {
      branch: (cable, behind, one) =>
        one === where ? ohmsOf(one.cableOhms * roll.along + 0.1) : plainParts.branch(cable, behind, one),
    });
  },
  'corroded-splice': atCable((cable, roll) => inRow(cable, ohmsOf(roll.splice))),
  'damp-cable': (loop, roll) => beside(wall(loop), ohmsOf(roll.damp)),
  'length-differs': atCable((_, roll, one) => ohmsOf(one.cableOhms * roll.factor)),
  'conductor-differs': atCable((_, roll, one) => ohmsOf(one.cableOhms * (1.5 + roll.along * 2.5))),
  'meter-leads': (loop, roll) => inRow(wall(loop), ohmsOf(roll.leads)),
};

export function randomFault(): fc.Arbitrary<FaultyCircuit> {
  return fc
    .record({ loop: randomLoop(), cause: fc.noBias(fc.constantFrom(...Object.keys(FAULTS))), roll: dice })
    .map(({ loop, cause, roll }) => ({ loop, cause, wall: FAULTS[cause]!(loop, roll) }))
    .filter((one): one is FaultyCircuit => one.wall !== null);
}
