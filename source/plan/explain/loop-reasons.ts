import type { FindingCode } from '../finding-codes.ts';
import { PRACTICE, type Reason } from './reason.ts';

export const LOOP_REASONS = {
  'too-few-inputs': {
    why: 'Zones never share an input unless the survey allows it, and there are more of them than inputs.',
    rule: 'Fewest groups: one for each zone and kind of contact, each panic device, each tamper loop that is kept. The survey lets zones share by a line beside zones: mayShare: [[z1, z2]].',
    source:
      'Counted, and held against an integer programme; where not every way was weighed, the finding says so.',
  },
  'shared-input': {
    why: 'What shares an input no longer reports by itself.',
    rule: 'Loss of a group = sum of importance x (size - 1), least in total with the inputs there are; ties by places mixed, joins parted, survey order.',
    source: "The project's own measure.",
  },
  'joined-in-field': {
    why: 'Only one pair comes back to the panel: no work at the panel can part them.',
    rule: 'Joined in the field by the survey.',
    source: PRACTICE,
  },
  'input-ambiguous': {
    why: 'Between its two thresholds an input may show either, and show it differently in the cold.',
    rule: "The loop's bounds against half of what the input reads as closed: V = rise of its return + current x R, or the windows of a supervised input, in every state. What closes in alarm is judged by one contact, the worst.",
    source: "Ohm's law and Kirchhoff's, with the tolerances of resistor and pull-up.",
  },
  'loop-too-long': {
    why: 'Cable eats the margin that corrosion will need.',
    rule: 'Nominal cable resistance over 100 Ω.',
    source: PRACTICE,
  },
  'loop-powered': {
    why: "A two-wire detector is fed by the panel's loop; a dry input offers it less than a milliamp.",
    rule: 'Supply from-loop.',
    source: PRACTICE,
  },
  'pulse-too-short': {
    why: "A contact that opens for less than the input's response is never reported.",
    rule: 'Pulse < response of the board.',
    source: "The board's data.",
  },
  'needs-analyser': {
    why: 'Vibration contacts chatter; what they mean is counted by an analyser, often in the old panel.',
    rule: 'Pulse needs-analyser.',
    source: PRACTICE,
  },
  'reset-lost': {
    why: 'A latching detector shows alarm for ever once it has alarmed, when nothing breaks its supply.',
    rule: 'Control reset or set-line.',
    source: PRACTICE,
  },
  'low-contact-current': {
    why: 'Films on old contacts want some current to break through.',
    rule: 'Reference / pull-up < 1 mA with a mechanical contact on the board.',
    source: PRACTICE,
  },
  'aux-on-input': {
    why: 'A nail or a mouse that joins two cores of one cable puts aux on an input made for less.',
    rule: 'Loop and supply in one cable, and aux stands higher than the most the input bears.',
    source: "The board's data.",
  },
  'shared-return': {
    why: 'Circuits with one return core are one circuit on their common side.',
    rule: 'A core of use common serves more than one input, or a loop comes back over the negative of what it watches.',
    source: 'Kirchhoff.',
  },
  'resistor-unknown': {
    why: 'Without its value no reading can be told from a fault.',
    rule: 'resistor: unknown in the survey.',
    source: 'Usual values 1 k to 10 k: common practice, no source.',
  },
  'resistor-at-panel': {
    why: 'A resistor watches only what lies behind it; at the screws there is no cable behind it to watch.',
    rule: 'The board supervises, and the end resistor of an input is kept, replaced or fitted at the panel.',
    source: 'protectiveresources.com: resistors at the panel supervise nothing; UL 1076 scope 1.4.',
  },
  'resistor-at-detector': {
    why: 'What sits at the detector is overlooked at the panel, and needs a ladder.',
    rule: 'The resistor goes and stands at a detector.',
    source: PRACTICE,
  },
  'supervision-lost': {
    why: 'An end resistor tells a shorted (or, across the end, a cut) cable from a loop at rest. A resistor at the panel never did.',
    rule: 'It is taken out and the input has no window of its own.',
    source:
      'UL 1076 scope 1.4: a protection circuit responds to increase and decrease of loop resistance; protectiveresources.com.',
  },
  'contact-unknown': {
    why: 'Whether it opens or closes in alarm decides what the input must be set to.',
    rule: 'contact: unknown in the survey.',
    source: PRACTICE,
  },
  'length-unknown': {
    why: 'Expected readings and voltages are only as good as the lengths behind them.',
    rule: 'Length or conductor of a cable that moves is missing.',
    source: 'Lengths: ±30 % estimated, ±5 % measured, ±100 % unknown; common practice, no source.',
  },
  'tamper-given-up': {
    why: 'A cover that opens unnoticed is a way in.',
    rule: 'keep: given-up in the survey.',
    source: 'EN 50131-1 asks for tamper detection by grade (from memory).',
  },
  'screw-overfilled': {
    why: 'Two conductors under a screw made for one come loose when the building is cold.',
    rule: 'Conductors for one terminal > what its maker allows, or unlike sizes; up to two and a pigtail are spliced, more go to a distribution block.',
    source: 'NEC 110.14(A); NFPA 731 4.6.3.9 and 4.6.3.10: identified terminals, same gauge and composition.',
  },
  'conductor-unfit': {
    why: 'Too thin slips out, too thick is not gripped.',
    rule: "Conductor outside the range of the board's terminals.",
    source: "IEC 60947-7-4; the board's data.",
  },
  'conductor-short': {
    why: 'A conductor under tension breaks at its screw.',
    rule: 'Slack at the panel < 150 mm.',
    source: PRACTICE,
  },
  'unused-core': {
    why: 'A bare loose core finds the one screw it should not.',
    rule: 'Cores of use spare, screen, data or other.',
    source: PRACTICE,
  },
} as const satisfies Partial<Record<FindingCode, Reason>>;
