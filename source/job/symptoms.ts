import type { Cause } from '../electrical/causes.ts';
import type { JudgedField } from '../procedure/judge.ts';
import type { Proof, Step } from '../procedure/step.ts';
import { STOP_VOLTS } from '../procedure/voltage.ts';

/** An answer that does not fit, with what helps to explain it. */
export type Seen = {
  readonly step: Step;
  readonly proof: Proof;
  readonly field: JudgedField;
  /** The reading in the proof's unit; NaN where it is none. */
  readonly value: number;
  /** The detector it is about needs a supply. */
  readonly powered: boolean;
  /** An AC voltage was read on the same card. */
  readonly alternates: boolean;
  /** A voltage was met on a sounder's own wires. */
  readonly atSounder: boolean;
  /** The supply at the detector's own terminals, where it was read because its input is not as it should be. */
  readonly supply: 'right' | 'low' | 'none' | 'reversed' | null;
  /** How its own contact stands, by the volts across it. */
  readonly contact: 'open' | 'closed' | null;
};

type Symptom = { readonly when: (seen: Seen) => boolean; readonly causes: readonly Cause[] };

const isOf =
  (kind: Proof['kind'], of: string) =>
  ({ proof }: Seen) =>
    proof.kind === kind && 'of' in proof && proof.of === of;
const direct = isOf('sweep', 'volts-dc');
const alternating = isOf('sweep', 'volts-ac');
const volts = isOf('reading', 'volts-dc');
const on = (topic: RegExp) => (seen: Seen) => topic.test(seen.step.id);
const between = (least: number, most: number) => (seen: Seen) =>
  Math.abs(seen.value) >= least && Math.abs(seen.value) < most;
const says = (words: RegExp) => (seen: Seen) => words.test(seen.field.says);
const all =
  (...tests: ((seen: Seen) => boolean)[]) =>
  (seen: Seen) =>
    tests.every((test) => test(seen));
const powered = (seen: Seen) => seen.powered;
const observed = (seen: Seen) => seen.proof.kind === 'observation';
const supplied =
  (...how: Seen['supply'][]) =>
  ({ supply }: Seen) =>
    how.includes(supply);
const contact = (how: Seen['contact']) => (seen: Seen) => seen.contact === how;
const chosen = (seen: Seen) => seen.proof.kind === 'choice';
const field = (name: RegExp) => (seen: Seen) => name.test(seen.field.field);
const adapter = on(/adapter/);
const low = ({ value, field: { window } }: Seen) =>
  value * 1000 < (window?.minMilli ?? Number.NEGATIVE_INFINITY);

/**
 * What is usually behind an answer that no measuring point explains: the first row that fits says, likeliest first.
 * A standby battery stands at 10.5 to 14.5 V, a telephone line at 40 to 60 V DC and rings above 40 V AC. Common
 * practice, no source; the order is the order of looking.
 */
const SYMPTOMS: readonly Symptom[] = [
  {
    when: all(alternating, ({ field: { verdict } }) => verdict === 'unexpected'),
    causes: ['induced-voltage'],
  },
  {
    when: all(alternating, between(40, 1e9)),
    causes: ['ringing-voltage', 'foreign-voltage', 'induced-voltage'],
  },
  { when: alternating, causes: ['foreign-voltage', 'induced-voltage', 'ringing-voltage'] },
  // What shows on an end only once it is lifted comes from its other end.
  {
    when: all(direct, on(/^measure\./)),
    causes: ['foreign-voltage', 'ringing-voltage', 'battery-connected'],
  },
  {
    when: all(direct, between(0, 15), (seen) => seen.atSounder),
    causes: ['sounder-feeds-back', 'battery-connected', 'foreign-voltage', 'ringing-voltage'],
  },
  {
    when: all(direct, between(0, 15)),
    causes: ['battery-connected', 'sounder-feeds-back', 'foreign-voltage', 'ringing-voltage'],
  },
  {
    when: all(direct, between(40, 1e9)),
    causes: ['ringing-voltage', 'foreign-voltage', 'battery-connected'],
  },
  { when: direct, causes: ['foreign-voltage', 'battery-connected', 'ringing-voltage'] },
  { when: all(isOf('reading', 'volts-ac'), adapter), causes: ['adapter-gives-ac'] },
  {
    when: all(isOf('reading', 'volts-ac')),
    causes: ['ringing-voltage', 'foreign-voltage', 'induced-voltage'],
  },
  // What no source of such a job gives comes from elsewhere.
  {
    when: all(volts, between(STOP_VOLTS, 1e9), on(/telephone/)),
    causes: ['ringing-voltage', 'foreign-voltage'],
  },
  { when: all(volts, between(STOP_VOLTS, 1e9)), causes: ['foreign-voltage'] },
  { when: all(volts, on(/telephone/)), causes: ['ringing-voltage', 'foreign-voltage'] },
  {
    when: all(volts, adapter, between(0, 1), ({ alternates }) => alternates),
    causes: ['adapter-gives-ac', 'adapter-gives-nothing', 'adapter-voltage-differs'],
  },
  {
    when: all(volts, adapter, between(0, 1)),
    causes: ['adapter-gives-nothing', 'adapter-voltage-differs', 'adapter-gives-ac'],
  },
  { when: all(volts, adapter, ({ value }) => value < 0), causes: ['adapter-reversed', 'probes-swapped'] },
  // Read on the source itself: its polarity is marked there, and nothing else is connected.
  {
    when: all(volts, on(/baseline|isolate\.battery|power\.battery/), ({ value }) => value < 0),
    causes: ['probes-swapped'],
  },
  { when: all(volts, on(/^prepare\.adapter/)), causes: ['adapter-voltage-differs'] },
  { when: all(volts, ({ value }) => value < 0), causes: ['aux-reversed'] },
  // At the old panel's own screws no cable lies between; what its aux lacks, the panel lacks.
  { when: all(volts, on(/^survey\.baseline/), field(/battery/), low), causes: ['weak-battery'] },
  { when: all(volts, on(/^survey\.baseline/)), causes: [] },
  { when: all(volts, on(/battery|mains-fail/), low), causes: ['weak-battery', 'corroded-splice'] },
  { when: all(volts, between(0, 1)), causes: ['cable-cut', 'aux-reversed', 'under-voltage'] },
  {
    when: all(volts, low),
    causes: ['under-voltage', 'corroded-splice', 'length-differs', 'conductor-differs', 'weak-battery'],
  },
  { when: volts, causes: ['adapter-voltage-differs'] },
  { when: all(isOf('reading', 'amps'), on(/sounder/)), causes: ['sounder-overload'] },
  {
    when: all(isOf('reading', 'ohms'), on(/^cold\./)),
    causes: ['cable-shorted', 'damp-cable', 'wrong-input'],
  },
  // On the bench nothing of the field is connected: only the board and what stands in for a loop.
  {
    when: all(observed, on(/^prepare\.inputs/)),
    causes: ['stand-in-elsewhere', 'input-named-otherwise', 'input-failed'],
  },
  {
    when: all(observed, says(/nothing/)),
    causes: [
      'resistor-at-detector',
      'resistor-missing',
      'cable-shorted',
      'damp-cable',
      'common-loose',
      'wrong-input',
      'resistor-value-differs',
    ],
  },
  // What was read at the detector itself parts what one look at the input cannot.
  {
    when: all(observed, supplied('reversed')),
    causes: ['aux-reversed', 'relay-unpowered', 'contact-stuck-open'],
  },
  {
    when: all(observed, supplied('none')),
    causes: ['cable-cut', 'under-voltage', 'aux-reversed', 'relay-unpowered'],
  },
  {
    when: all(observed, supplied('low')),
    causes: ['under-voltage', 'corroded-splice', 'cable-cut', 'length-differs', 'conductor-differs'],
  },
  {
    when: all(observed, supplied('right'), contact('open'), says(/open/)),
    causes: ['relay-unpowered', 'contact-stuck-open', 'wrong-input', 'hidden-detector', 'cable-cut'],
  },
  {
    when: all(observed, contact('open'), says(/open/)),
    causes: ['contact-stuck-open', 'wrong-input', 'joined-other-way', 'other-pair', 'hidden-detector'],
  },
  {
    when: all(observed, contact('closed'), says(/open/)),
    causes: [
      'cable-cut',
      'common-loose',
      'hidden-detector',
      'wrong-input',
      'resistor-at-detector',
      'other-pair',
      'joined-other-way',
      'corroded-splice',
    ],
  },
  {
    when: all(observed, contact('open'), says(/closed/)),
    causes: [
      'wrong-input',
      'other-pair',
      'joined-other-way',
      'damp-cable',
      'cable-shorted',
      'contact-bridged',
    ],
  },
  {
    when: all(observed, supplied('right'), contact('closed'), says(/closed/)),
    causes: [
      'contact-bridged',
      'cable-shorted',
      'relay-unpowered',
      'wrong-input',
      'other-pair',
      'joined-other-way',
    ],
  },
  {
    when: all(observed, contact('closed'), says(/closed/)),
    causes: [
      'contact-bridged',
      'cable-shorted',
      'other-pair',
      'wrong-input',
      'joined-other-way',
      'damp-cable',
    ],
  },
  {
    when: all(observed, powered, says(/open/)),
    causes: [
      'relay-unpowered',
      'aux-reversed',
      'under-voltage',
      'contact-stuck-open',
      'cable-cut',
      'common-loose',
      'wrong-input',
      'hidden-detector',
      'resistor-at-detector',
      'other-pair',
      'joined-other-way',
    ],
  },
  {
    when: all(observed, says(/open/)),
    causes: [
      'common-loose',
      'wrong-input',
      'contact-stuck-open',
      'cable-cut',
      'hidden-detector',
      'resistor-at-detector',
    ],
  },
  {
    when: all(observed, powered, says(/closed/)),
    causes: [
      'contact-bridged',
      'cable-shorted',
      'other-pair',
      'wrong-input',
      'joined-other-way',
      'relay-unpowered',
      'under-voltage',
      'aux-reversed',
      'damp-cable',
    ],
  },
  {
    when: all(observed, says(/closed/)),
    causes: [
      'wrong-input',
      'contact-bridged',
      'cable-shorted',
      'other-pair',
      'joined-other-way',
      'damp-cable',
    ],
  },
  { when: all(chosen, on(/^prepare\.adapter/), field(/polarity/)), causes: ['adapter-reversed'] },
  { when: all(chosen, on(/^cold\.look/), field(/polarity/)), causes: ['aux-reversed'] },
  { when: all(chosen, on(/^cold\.look/), field(/loose/)), causes: ['common-loose', 'wrong-input'] },
  { when: all(chosen, on(/^walk\.sounder/)), causes: ['sounder-overload', 'cable-cut', 'common-loose'] },
  {
    when: all(chosen, on(/^power\.supply/)),
    causes: ['relay-unpowered', 'aux-reversed', 'under-voltage'],
  },
  { when: all(chosen, on(/^isolate\.battery/)), causes: ['battery-connected'] },
  { when: all(chosen, on(/^split\./)), causes: ['joined-other-way', 'other-pair', 'hidden-detector'] },
  { when: all(chosen, on(/^resistors\./)), causes: ['resistor-at-detector', 'resistor-missing'] },
  { when: all(chosen, on(/^rewire\./), says(/label/i)), causes: ['other-pair'] },
  { when: all(chosen, on(/^walk\.mains-failure/)), causes: ['weak-battery'] },
];

/** The usual causes of an answer, likeliest first; none where nothing is known of it. */
export function usualCauses(seen: Seen): readonly Cause[] {
  return SYMPTOMS.find(({ when }) => when(seen))?.causes ?? [];
}
