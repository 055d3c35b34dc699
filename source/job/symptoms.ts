import type { Cause } from '../electrical/causes.ts';
import { STOP_VOLTS } from '../procedure/voltage.ts';
import { INPUT_SYMPTOMS } from './input-symptoms.ts';
import { isLike, type Seen, type Symptom } from './symptom.ts';

const DIRECT = { kind: 'sweep', of: 'volts-dc' } as const;
const ALTERNATING = { kind: 'sweep', of: 'volts-ac' } as const;
const VOLTS = { kind: 'reading', of: 'volts-dc' } as const;
const CHOSEN = { kind: 'choice' } as const;
const ADAPTERS = ['adapter-on-bench', 'adapter'] as const;
const BEYOND: readonly [number, number] = [STOP_VOLTS, Number.POSITIVE_INFINITY];
/** A telephone line at rest, or ringing. */
const LINE: readonly [number, number] = [40, Number.POSITIVE_INFINITY];

/**
 * What is usually behind an answer that no measuring point explains: the first row that fits says, likeliest first.
 * A standby battery stands at 10.5 to 14.5 V, a telephone line at 40 to 60 V DC and rings above 40 V AC; what the
 * capacitors of a supply still hold lies anywhere below its voltage and falls. Common practice, no source; the order is
 * the order of looking.
 */
const VOLTAGE_SYMPTOMS: readonly Symptom[] = [
  { when: { ...ALTERNATING, fall: 'induced' }, causes: ['induced-voltage'] },
  { when: { ...ALTERNATING, size: LINE }, causes: ['ringing-voltage', 'foreign-voltage', 'induced-voltage'] },
  { when: ALTERNATING, causes: ['foreign-voltage', 'induced-voltage', 'ringing-voltage'] },
  // What shows on an end only once it is lifted comes from its other end.
  {
    when: { ...DIRECT, topic: ['loop'] },
    causes: ['foreign-voltage', 'ringing-voltage', 'battery-connected'],
  },
  {
    when: { ...DIRECT, size: [0, 15], atSounder: true },
    causes: ['sounder-feeds-back', 'battery-connected', 'foreign-voltage', 'ringing-voltage'],
  },
  // Below what any standby battery stands at there is a charge that leaks away, or a battery that is nearly flat.
  {
    when: { ...DIRECT, size: [0, 9], topic: ['proof-of-dead'] },
    causes: ['charge-left', 'sounder-feeds-back', 'foreign-voltage', 'battery-connected', 'ringing-voltage'],
  },
  {
    when: { ...DIRECT, size: [0, 15], topic: ['proof-of-dead'] },
    causes: ['battery-connected', 'sounder-feeds-back', 'foreign-voltage', 'charge-left', 'ringing-voltage'],
  },
  {
    when: { ...DIRECT, size: [0, 15] },
    causes: ['battery-connected', 'sounder-feeds-back', 'foreign-voltage', 'ringing-voltage'],
  },
  { when: { ...DIRECT, size: LINE }, causes: ['ringing-voltage', 'foreign-voltage', 'battery-connected'] },
  {
    when: { ...DIRECT, topic: ['proof-of-dead'] },
    causes: ['foreign-voltage', 'battery-connected', 'charge-left', 'ringing-voltage'],
  },
  { when: DIRECT, causes: ['foreign-voltage', 'battery-connected', 'ringing-voltage'] },
  { when: { kind: 'reading', of: 'volts-ac', topic: ADAPTERS }, causes: ['adapter-gives-ac'] },
  {
    when: { kind: 'reading', of: 'volts-ac' },
    causes: ['ringing-voltage', 'foreign-voltage', 'induced-voltage'],
  },
  // What no source of such a job gives comes from elsewhere.
  { when: { ...VOLTS, size: BEYOND, topic: ['telephone'] }, causes: ['ringing-voltage', 'foreign-voltage'] },
  { when: { ...VOLTS, size: BEYOND }, causes: ['foreign-voltage'] },
  { when: { ...VOLTS, topic: ['telephone'] }, causes: ['ringing-voltage', 'foreign-voltage'] },
  {
    when: { ...VOLTS, topic: ADAPTERS, size: [0, 1], alternates: true },
    causes: ['adapter-gives-ac', 'adapter-gives-nothing', 'adapter-voltage-differs'],
  },
  {
    when: { ...VOLTS, topic: ADAPTERS, size: [0, 1] },
    causes: ['adapter-gives-nothing', 'adapter-voltage-differs', 'adapter-gives-ac'],
  },
  { when: { ...VOLTS, topic: ADAPTERS, negative: true }, causes: ['adapter-reversed', 'probes-swapped'] },
  // Read on the source itself: its polarity is marked there, and nothing else is connected.
  {
    when: { ...VOLTS, topic: ['baseline', 'old-battery', 'new-battery'], negative: true },
    causes: ['probes-swapped'],
  },
  { when: { ...VOLTS, topic: ['adapter-on-bench'] }, causes: ['adapter-voltage-differs'] },
  { when: { ...VOLTS, negative: true }, causes: ['aux-reversed'] },
  // At the old panel's own screws no cable lies between; what its aux lacks, the panel lacks.
  { when: { ...VOLTS, topic: ['baseline'], field: 'battery', below: true }, causes: ['weak-battery'] },
  { when: { ...VOLTS, topic: ['baseline'] }, causes: [] },
  {
    when: { ...VOLTS, topic: ['old-battery', 'new-battery', 'mains-failure'], below: true },
    causes: ['weak-battery', 'corroded-splice'],
  },
  { when: { ...VOLTS, size: [0, 1] }, causes: ['cable-cut', 'aux-reversed', 'under-voltage'] },
  {
    when: { ...VOLTS, below: true },
    causes: ['under-voltage', 'corroded-splice', 'length-differs', 'conductor-differs', 'weak-battery'],
  },
  { when: VOLTS, causes: ['adapter-voltage-differs'] },
  {
    when: { kind: 'reading', of: 'ohms', topic: ['cold'] },
    causes: ['cable-shorted', 'damp-cable', 'wrong-input'],
  },
];

const CHOICE_SYMPTOMS: readonly Symptom[] = [
  { when: { ...CHOSEN, topic: ['adapter-on-bench'], field: 'polarity' }, causes: ['adapter-reversed'] },
  { when: { ...CHOSEN, topic: ['look-over'], field: 'polarity' }, causes: ['aux-reversed'] },
  { when: { ...CHOSEN, topic: ['look-over'], field: 'loose' }, causes: ['common-loose', 'wrong-input'] },
  { when: { ...CHOSEN, topic: ['sounder'] }, causes: ['sounder-overload', 'cable-cut', 'common-loose'] },
  {
    when: { ...CHOSEN, topic: ['supply-at-detectors'] },
    causes: ['relay-unpowered', 'aux-reversed', 'under-voltage'],
  },
  { when: { ...CHOSEN, topic: ['old-battery'] }, causes: ['battery-connected'] },
  { when: { ...CHOSEN, topic: ['join'] }, causes: ['joined-other-way', 'other-pair', 'hidden-detector'] },
  { when: { ...CHOSEN, topic: ['resistor'] }, causes: ['resistor-at-detector', 'resistor-missing'] },
  { when: { ...CHOSEN, topic: ['landing'], option: 'other-colour' }, causes: ['other-pair'] },
  { when: { ...CHOSEN, topic: ['mains-failure'] }, causes: ['weak-battery'] },
];

const SYMPTOMS: readonly Symptom[] = [...VOLTAGE_SYMPTOMS, ...INPUT_SYMPTOMS, ...CHOICE_SYMPTOMS];

/** The usual causes of an answer, likeliest first; none where nothing is known of it. */
export function usualCauses(seen: Seen): readonly Cause[] {
  return SYMPTOMS.find(({ when }) => isLike(seen, when))?.causes ?? [];
}
