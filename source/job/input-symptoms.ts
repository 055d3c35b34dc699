import type { Symptom } from './symptom.ts';

const OBSERVED = { kind: 'observation' } as const;
const OPEN = { ...OBSERVED, shown: 'open' } as const;
const CLOSED = { ...OBSERVED, shown: 'closed' } as const;

/** What is usually behind an input that does not show what it should. Common practice, no source. */
export const INPUT_SYMPTOMS: readonly Symptom[] = [
  // On the bench nothing of the field is connected: only the board and what stands in for a loop.
  {
    when: { ...OBSERVED, topic: ['inputs-on-bench'] },
    causes: ['stand-in-elsewhere', 'input-named-otherwise', 'input-failed'],
  },
  // Heard at another input, or at others as well: that the wiring leads elsewhere is likelier than that it leads nowhere.
  {
    when: { ...OBSERVED, heard: 'elsewhere' },
    causes: ['wrong-input', 'other-pair', 'joined-other-way', 'input-named-otherwise', 'hidden-detector'],
  },
  {
    when: { ...OBSERVED, heard: 'together' },
    causes: ['joined-other-way', 'hidden-detector', 'cable-shorted', 'wrong-input', 'common-loose'],
  },
  {
    when: { ...OBSERVED, heard: 'chatter' },
    causes: ['common-loose', 'corroded-splice', 'contact-stuck-open', 'relay-unpowered', 'under-voltage'],
  },
  {
    when: { ...OBSERVED, shown: 'nothing' },
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
    when: { ...OBSERVED, supply: 'reversed' },
    causes: ['aux-reversed', 'relay-unpowered', 'contact-stuck-open'],
  },
  {
    when: { ...OBSERVED, supply: 'none' },
    causes: ['cable-cut', 'under-voltage', 'aux-reversed', 'relay-unpowered'],
  },
  {
    when: { ...OBSERVED, supply: 'low' },
    causes: ['under-voltage', 'corroded-splice', 'cable-cut', 'length-differs', 'conductor-differs'],
  },
  {
    when: { ...OPEN, supply: 'right', contact: 'open' },
    causes: ['relay-unpowered', 'contact-stuck-open', 'wrong-input', 'hidden-detector', 'cable-cut'],
  },
  {
    when: { ...OPEN, contact: 'open' },
    causes: ['contact-stuck-open', 'wrong-input', 'joined-other-way', 'other-pair', 'hidden-detector'],
  },
  {
    when: { ...OPEN, contact: 'closed' },
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
    when: { ...CLOSED, contact: 'open' },
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
    when: { ...CLOSED, supply: 'right', contact: 'closed' },
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
    when: { ...CLOSED, contact: 'closed' },
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
    when: { ...OPEN, powered: true },
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
    when: OPEN,
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
    when: { ...CLOSED, powered: true },
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
    when: CLOSED,
    causes: [
      'wrong-input',
      'contact-bridged',
      'cable-shorted',
      'other-pair',
      'joined-other-way',
      'damp-cable',
    ],
  },
];
