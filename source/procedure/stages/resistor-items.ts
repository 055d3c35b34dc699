import { RESISTOR_TOLERANCE, readingWindow } from '../../electrical/loop.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import type { Act, FitResistor } from '../../wiring/act.ts';
import { CANNOT, type Choice, choice, reading } from '../card.ts';
import { bare, type Facts, listed } from '../facts.ts';
import type { ChoiceProof, ReadingProof } from '../step.ts';

/** What hands do at one place to one resistor: one thing to answer for. */
export type ResistorItem = {
  readonly acts: readonly Act[];
  /** Where a hand must go out to; null at the panel. */
  readonly detector: string | null;
  readonly proof: ChoiceProof;
  /** The new part by itself, before it goes in. */
  readonly part: (ReadingProof & { readonly after: number }) | null;
};

/**
 * The acts on resistors as things to do, in their order: a part taken out and what is done with its ends, a jumper
 * and what goes in beside it.
 */
export function handsOf(facts: Facts, acts: readonly Act[]): ResistorItem[] {
  const groups: Act[][] = [];
  for (const act of acts) {
    const last = groups.at(-1);
    if (last !== undefined && goesWith(last, act)) last.push(act);
    else groups.push([act]);
  }
  return groups.map((group) => itemOf(facts, group));
}

/** Splicing the ends, moving a wire aside and putting another in follow the one that came out there. */
function goesWith(group: readonly Act[], act: Act): boolean {
  if (act.do === 'splice' || act.do === 'move') return true;
  const [first] = group;
  return (
    act.do === 'fit-resistor' &&
    act.contact === undefined &&
    act.detector !== undefined &&
    (first?.do === 'remove-resistor' || first?.do === 'set-jumper') &&
    group.every((one) => one.do !== 'fit-resistor')
  );
}

function itemOf(facts: Facts, acts: readonly Act[]): ResistorItem {
  const [first] = acts as [Act];
  const fit = acts.find((act) => act.do === 'fit-resistor');
  const detector = fit?.detector ?? ('resistor' in first ? detectorOf(facts, first.resistor) : null) ?? null;
  return {
    acts,
    detector,
    proof:
      first.do === 'set-jumper'
        ? jumperChoice(facts, first, fit, detector)
        : first.do === 'remove-resistor'
          ? outChoice(facts, first, acts, fit, detector)
          : fitChoice(facts, fit!),
    part: fit === undefined ? null : partReading(facts, fit),
  };
}

const old = (facts: Facts, id: string) => facts.plan.wiring.resistors.find((one) => one.id === id);

function detectorOf(facts: Facts, id: string): string | null {
  const place = old(facts, id)?.place;
  return typeof place === 'object' && place !== null ? place.detector : null;
}

const value = (ohms: number | 'unknown' | undefined) =>
  typeof ohms === 'number' ? formatQuantity(ohms, 'ohms') : 'the';
const nameOf = (facts: Facts, detector: string | null) =>
  facts.detector(detector ?? '')?.name ?? detector ?? 'the detector';

const NOT_THERE: Choice = [
  'not-there',
  'It is not there',
  'fail',
  'Take nothing out. Look for it at the panel, then at the detectors, and correct the survey by where it is.',
];

function outChoice(
  facts: Facts,
  { resistor: id }: Extract<Act, { do: 'remove-resistor' }>,
  acts: readonly Act[],
  fit: FitResistor | undefined,
  detector: string | null,
): ChoiceProof {
  const resistor = old(facts, id);
  const ohms = typeof resistor?.ohms === 'number' ? `${value(resistor.ohms)} resistor` : 'resistor';
  const where = detector === null ? panelPlace(facts, id) : `inside ${nameOf(facts, detector)}`;
  const isSpliced = acts.some((act) => act.do === 'splice');
  const then =
    fit !== undefined
      ? `; fit ${value(fit.ohms)} in its place`
      : isSpliced
        ? '; join the two ends it leaves'
        : detector === null
          ? ''
          : '; its two wires stay where they are';
  const done =
    fit !== undefined
      ? 'Old one out and bagged, new one in and insulated'
      : isSpliced
        ? 'Out and bagged, its ends joined'
        : 'Out and bagged';
  return choice(`out.${id}`, `Take out the ${ohms} ${where}${then}`, [
    ['done', done, 'pass'],
    NOT_THERE,
    CANNOT,
  ]);
}

/** Where at the panel it sits: across two screws, or between a screw and the wire behind it. */
function panelPlace(facts: Facts, id: string): string {
  const resistor = old(facts, id);
  if (resistor === undefined) return 'at the panel';
  const ends = [resistor.a, resistor.b];
  const screws = ends.filter((node) => node.startsWith('old:')).map(bare);
  if (screws.length === 2) return `across screws ${listed(screws)}`;
  const behind = facts.conductors.filter(({ near }) => ends.includes(near) && !near.startsWith('old:'));
  const wires = behind.map((one) => `${one.colour} ${one.id}`);
  return screws.length === 1 && wires.length > 0
    ? `between screw ${screws[0]} and ${listed(wires)}`
    : 'at the panel';
}

function jumperChoice(
  facts: Facts,
  { resistor: id }: Extract<Act, { do: 'set-jumper' }>,
  fit: FitResistor | undefined,
  detector: string | null,
): ChoiceProof {
  const then = fit === undefined ? '' : `; fit ${value(fit.ohms)} in series with its wire`;
  return choice(`jumper.${id}`, `Inside ${nameOf(facts, detector)}: set the resistor jumper to none${then}`, [
    ['done', fit === undefined ? 'Jumper set to none' : 'Jumper set to none, the new one in', 'pass'],
    [
      'no-jumper',
      'No such jumper inside',
      'fail',
      'Change nothing. Look for a part with two legs, and correct the survey (loop.resistorAt).',
    ],
    CANNOT,
  ]);
}

/** What is fitted: at a contact, or at an input of the new board. */
export function fitChoice(facts: Facts, fit: FitResistor): ChoiceProof {
  return choice(`fit.${keyOf(fit)}`, `Fit ${value(fit.ohms)} ${placeOf(facts, fit)}`, [
    ['fitted', 'Fitted, and insulated', 'pass'],
    CANNOT,
  ]);
}

const keyOf = ({ circuit, detector, contact }: FitResistor) =>
  circuit ? `${circuit.board}/${circuit.input}` : `${detector}${contact ? `.${contact}` : ''}`;

function placeOf(facts: Facts, { circuit, across, between, detector, contact }: FitResistor): string {
  if (circuit) {
    const [own, other] = between.map((node) => node.slice(node.indexOf(':') + 1));
    return across
      ? `across ${own} and ${other} of ${circuit.board}`
      : `with one leg under ${own} of ${circuit.board}; the wire goes on its free leg`;
  }
  const sense = facts.plan.wiring.contacts.find(
    (one) => one.detector === detector && one.purpose === contact,
  )?.sense;
  const how = sense === 'normally-open' ? 'in series with' : 'across';
  return `${how} the ${contact === 'tamper' ? 'tamper ' : ''}contact of ${nameOf(facts, detector ?? null)}`;
}

/** Each value is read before it goes in; one that goes along from the old panel was read in its loop. */
export function partReading(facts: Facts, { ohms, circuit }: FitResistor): ResistorItem['part'] {
  const isKept = facts.circuits.some(
    ({ board, input, resistor }) =>
      circuit?.board === board && circuit.input === input && resistor.work === 'keep',
  );
  if (isKept) return null;
  const windows = facts.plan.boards.flatMap(({ supervision }) => supervision?.window ?? []);
  const share = windows.length > 0 ? Math.min(...windows) : RESISTOR_TOLERANCE;
  const within = (part: number) => ({ min: ohms * (1 - part), nominal: ohms, max: ohms * (1 + part) });
  const { min, max } = readingWindow(within(RESISTOR_TOLERANCE));
  return {
    ...reading({
      field: `part.${ohms}`,
      of: 'ohms',
      label: `A new ${value(ohms)} resistor by itself`,
      between: [`part:${ohms}`, 'part'],
      min: Math.floor(min),
      nominal: ohms,
      max: Math.ceil(max),
      usable: { min: Math.ceil(within(share).min), max: Math.floor(within(share).max) },
    }),
    after: 0,
  };
}
