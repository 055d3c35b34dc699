import fc from 'fast-check';
import { preferredValues } from '../../source/electrical/e-series.ts';
import { exactly, type Interval, within } from '../../source/electrical/interval.ts';
import type { ContactSense, Expression } from '../../source/electrical/loop.ts';
import { between, part } from './draw.ts';

type TrueStyle = 'plain' | 'series' | 'across' | 'mixed' | 'two-resistor' | 'bridged';

/** Ohms of copper per metre and core, nominal and at the most, worked out by hand from the published tables. */
const CABLES = [
  // 22 AWG and 24 AWG: 52.94 and 84.20 Ω/km (4-figure wire table of NBS Circular 31 lineage), stranded +2.5 %.
  { nominal: 0.05294, most: 0.05426 },
  { nominal: 0.0842, most: 0.0863 },
  // 0.22 mm²: 78.4 Ω/km of ideal copper, 96 at the DIN VDE 0295 limit.
  { nominal: 0.0784, most: 0.096 },
];

/** A loop with its true figures: what hangs in the wall, and what somebody who surveyed it would believe. */
export type RandomLoop = {
  readonly style: TrueStyle;
  readonly detectors: readonly RandomDetector[];
  readonly resistor: RandomResistor | null;
  /** Behind or across each contact, as the style has it. */
  readonly contactResistors: readonly RandomResistor[];
};
export type RandomDetector = {
  readonly name: string;
  readonly sense: ContactSense;
  readonly closedOhms: number;
  readonly isElectronic: boolean;
  /** Of the pair that leads to it, out and back, true and surveyed. */
  readonly cableOhms: number;
  readonly surveyedCable: Interval;
};
type RandomResistor = { readonly ohms: number; readonly trueOhms: number };

/** Whether an expression is of the true figures or of what the survey knows. */
export type Figures = 'true' | 'surveyed';

function resistorOf(range: readonly [number, number]): fc.Arbitrary<RandomResistor> {
  return fc
    .tuple(fc.noBias(fc.constantFrom(...preferredValues('E24', ...range))), part(0.05))
    .map(([ohms, factor]) => ({ ohms, trueOhms: ohms * factor }));
}

function detectorOf(name: string, sense: ContactSense, count: number): fc.Arbitrary<RandomDetector> {
  return fc
    .record({
      isElectronic: fc.noBias(fc.boolean()),
      closed: between(0.01, 1),
      metres: between(2, 150 / count),
      estimate: between(0.78, 1.28),
      cable: fc.noBias(fc.constantFrom(...CABLES)),
      made: between(0, 1),
    })
    .map(({ isElectronic, closed, metres, estimate, cable, made }) => ({
      name,
      sense,
      isElectronic,
      // A relay's contact hides a protection resistor of up to 47 Ω; a reed with its splices less than 2.
      closedOhms: closed * (isElectronic ? 48 : 1.9),
      cableOhms: 2 * metres * (cable.nominal + made * (cable.most - cable.nominal)),
      surveyedCable: surveyed(metres * estimate, cable),
    }));
}

/** An estimated length is ±30 %: the true one lies within. */
function surveyed(metres: number, cable: (typeof CABLES)[number]): Interval {
  const { min, nominal, max } = within(2 * metres, 0.3);
  return { min: min * cable.nominal, nominal: nominal * cable.nominal, max: max * cable.most };
}

const senses: Record<TrueStyle, (at: number, isOpen: boolean) => ContactSense> = {
  plain: (_, isOpen) => (isOpen ? 'normally-open' : 'normally-closed'),
  series: () => 'normally-closed',
  across: () => 'normally-open',
  mixed: (at) => (at === 0 ? 'normally-closed' : 'normally-open'),
  'two-resistor': (_, isOpen) => (isOpen ? 'normally-open' : 'normally-closed'),
  bridged: () => 'normally-closed',
};

/** Loops of all styles: 1 to 3 detectors, E24 resistors of 5 %, 2 to 150 m of cable. */
export function randomLoop(): fc.Arbitrary<RandomLoop> {
  return fc
    .record({
      style: fc.noBias(
        fc.constantFrom<TrueStyle>('plain', 'series', 'across', 'mixed', 'two-resistor', 'bridged'),
      ),
      count: fc.noBias(fc.integer({ min: 1, max: 3 })),
      isOpen: fc.noBias(fc.boolean()),
      isBare: fc.noBias(fc.boolean()),
    })
    .chain(({ style, count, isOpen, isBare }) => {
      const contacts = style === 'mixed' || style === 'bridged' ? Math.max(2, count) : count;
      const hasResistor = style !== 'plain' && !(style === 'bridged' && isBare);
      const own = resistorOf([470, 22_000]);
      const each = style === 'bridged' ? contacts : 0;
      return fc.record({
        style: fc.constant(style),
        detectors: fc.tuple(
          ...Array.from({ length: contacts }, (_, at) =>
            detectorOf(`d${at + 1}`, senses[style](at, isOpen), contacts),
          ),
        ),
        resistor: hasResistor ? resistorOf([220, 47_000]) : fc.constant(null),
        contactResistors:
          style === 'two-resistor'
            ? fc
                .tuple(own, ...Array.from({ length: contacts }, () => part(0.05)))
                .map(([{ ohms }, ...factors]) => factors.map((factor) => ({ ohms, trueOhms: ohms * factor })))
            : fc.array(own, { minLength: each, maxLength: each }),
      });
    });
}

const inRow = (...of: Expression[]): Expression => ({ kind: 'series', of });
const beside = (...of: Expression[]): Expression => ({ kind: 'parallel', of });

function resistorLeaf(one: RandomResistor, figures: Figures): Expression {
  return figures === 'true'
    ? { kind: 'resistor', ohms: one.trueOhms, tolerance: 0 }
    : { kind: 'resistor', ohms: one.ohms, tolerance: 0.05 };
}

function cableLeaf(one: RandomDetector, figures: Figures): Expression {
  const ohms = figures === 'true' ? exactly(one.cableOhms) : one.surveyedCable;
  return { kind: 'cable', id: `c-${one.name}`, ohms };
}

function contactLeaf(one: RandomDetector, figures: Figures): Expression {
  const surveyedClosed = { min: 0, nominal: 0.1, max: one.isElectronic ? 50 : 2 };
  return {
    kind: 'contact',
    detector: one.name,
    sense: one.sense,
    closed: figures === 'true' ? exactly(one.closedOhms) : surveyedClosed,
    unpowered: one.isElectronic ? 'open' : null,
  };
}

/** How parts may be exchanged while a loop is built: the place of a fault. */
export type Parts = {
  readonly cable: (one: RandomDetector) => Expression;
  readonly contact: (one: RandomDetector) => Expression;
  readonly resistor: (one: RandomResistor) => Expression;
  /** A detector with its own cable. */
  readonly branch: (cable: Expression, contact: Expression, one: RandomDetector) => Expression;
};

export function partsOf(figures: Figures): Parts {
  return {
    cable: (one) => cableLeaf(one, figures),
    contact: (one) => contactLeaf(one, figures),
    resistor: (one) => resistorLeaf(one, figures),
    branch: (cable, contact) => inRow(cable, contact),
  };
}

/** The loop as an expression, built the way each style is drawn. */
export function build(loop: RandomLoop, parts: Parts): Expression {
  const { style, detectors, contactResistors } = loop;
  const ends = loop.resistor === null ? [] : [parts.resistor(loop.resistor)];
  const own = (at: number) => parts.resistor(contactResistors[at]!);
  const branches = detectors.map((one, at) => {
    const contact = parts.contact(one);
    const isOpen = one.sense === 'normally-open';
    const withOwn =
      contactResistors.length === 0 ? contact : isOpen ? inRow(contact, own(at)) : beside(contact, own(at));
    return { one, isOpen, cable: parts.cable(one), contact: withOwn };
  });
  if (style === 'plain' && branches[0]!.isOpen) {
    return beside(...branches.map(({ one, cable, contact }) => parts.branch(cable, contact, one)));
  }
  // Normally open contacts lie across the loop, each where its cable ends; what comes after lies behind it.
  return branches.reduceRight<Expression>(
    (behind, { one, isOpen, cable, contact }) => {
      if (!isOpen) return inRow(parts.branch(cable, contact, one), behind);
      return parts.branch(cable, beside(contact, behind), one);
    },
    inRow(...ends),
  );
}

/** A reading within ±(1 % + 0.5 Ω) of the truth. */
export function metered(trueOhms: number, gain: number, offset: number): number {
  if (trueOhms === Number.POSITIVE_INFINITY) return trueOhms;
  return Math.max(0, trueOhms * (1 + 0.01 * gain) + 0.5 * offset);
}
