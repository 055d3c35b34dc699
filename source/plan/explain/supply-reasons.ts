import type { FindingCode } from '../finding-codes.ts';
import { PRACTICE, type Reason } from './reason.ts';

export const SUPPLY_REASONS = {
  'aux-overloaded': {
    why: 'Every detector draws its alarm current at once when it matters most, and aux folds back or its fuse blows.',
    rule: 'Sum of the greater of standby and alarm current of each detector on aux, and hold-off, against what aux gives. It blocks when even without the assumed currents it is too much.',
    source: 'Arithmetic on the data of board and survey.',
  },
  'supply-overloaded': {
    why: 'What the adapter must give in alarm, while it also charges the battery, is more than it or the board allows.',
    rule: 'own + detectors in alarm + sounders and strobes > lesser of adapter and board maximum - charging current.',
    source:
      'Arithmetic on the data of board and survey; power-limited circuits at 12 V: NEC Table 11(B), 5 A and 60 VA.',
  },
  'adapter-unfit': {
    why: "Outside the board's supply range it resets or is damaged.",
    rule: 'Adapter voltage with its tolerance, less the drop of its lead at alarm and charging current, within what the board accepts.',
    source: "The board's data.",
  },
  'detector-undervoltage': {
    why: 'A detector that gets less than its minimum goes blind or alarms, and that at the end of the battery first.',
    rule: 'volts = source - sum over the cables above it of (loop resistance at cable temperature x all current below), sounders and an old run that feeds the board in it. On mains: aux less its tolerance; battery end: cut-off less the drop inside. It blocks when it stays short at the favourable bound of everything assumed.',
    source: 'Point-to-point method; copper by IEC 60028, conductors by ASTM B258 and IEC 60228.',
  },
  'detector-overvoltage': {
    why: 'Detectors are made for 15 or 16 V at most, and a charging board may give more than a new one expects.',
    rule: "Aux with its tolerance, or the float voltage of the battery less the drop inside where that is more, less the least drop at standby current, against the detector's maximum.",
    source: 'Detectors accept 9 to 15 V as a rule: from memory (EN 50131 interconnection).',
  },
  'detector-unfed': {
    why: 'A passive infrared or microwave detector without a supply is dead; where it works today, something feeds it that the survey does not name.',
    rule: 'A movement detector with supply none, or with no core of its cable that feeds it.',
    source: 'Movement detectors take 9 to 16 V DC: data sheets of detectors.',
  },
  'contact-overloaded': {
    why: 'A contact that carries more than it stands welds shut, and then never opens again.',
    rule: 'Reference / pull-up of an input > 50 mA, on a circuit with the relay of a detector in it.',
    source: 'Alarm contact 30 V 50 mA: data sheet of a movement detector, 1996; others state 100 to 200 mA.',
  },
  'current-unknown': {
    why: 'A budget of guesses is no budget.',
    rule: 'A current is missing from the survey.',
    source: PRACTICE,
  },
  'battery-too-small': {
    why: 'The battery ends before the wanted time.',
    rule: "(standby A x hold-up h + alarm A x alarm h) x (1 + margin) x temperature factor > capacity; above C/20 also what Peukert's law asks for, exponent 1.15.",
    source:
      'EN 50131-6 type A: 12 h for grades 1 and 2; margin 1.20 to 1.25 by edition of NFPA 72; temperature factor IEEE 485 table (from memory).',
  },
  'battery-never-charged': {
    why: 'A battery that never reaches float voltage sulphates and is dead within a year or two.',
    rule: 'Least voltage of the adapter, less the drop of its lead in standby, < float voltage.',
    source: 'Sealed lead-acid manuals: float 13.5 to 13.8 V at 25 °C (2.28 V a cell).',
  },
  'recharge-too-slow': {
    why: 'Two failures in two days find the battery half empty.',
    rule: 'Capacity / charging current x 1.2, of that 80 %, within 24 h.',
    source: 'DIN VDE 0833: recharge to 80 % within 24 h; NFPA 731-2008: 48 h.',
  },
  'charge-too-fast': {
    why: 'Charged too fast a sealed battery gasses, dries out and may swell.',
    rule: 'Charging current > a quarter of the capacity an hour.',
    source: 'About 0.25 C at most: trade pages on sealed lead-acid; no standard.',
  },
  'no-battery': {
    why: 'Cutting the mains is then the simplest way in.',
    rule: 'The board has no battery.',
    source: 'CSAA STA-1 (4 h), EN 50131-6 (12 h), NFPA 731-2008 (24 h) all ask for standby.',
  },
  'sounder-overloaded': {
    why: 'The output folds back or blows, and the sounder is silent when it should sound.',
    rule: 'Sum of sounder and strobe currents > what the output gives.',
    source: 'Arithmetic; flyback diode across a relay coil: 1N4001 to 1N4007 (sealevel.com).',
  },
  'sounder-own-battery': {
    why: 'A self-powered sounder sounds when its feed is taken away: over 100 dB beside somebody on a ladder.',
    rule: 'It has a battery of its own, or nobody knows.',
    source: 'Intruder-alarm textbook (howtoinstallalarms.com ch. 4); hearing: 29 CFR 1910.95 Table G-16.',
  },
  'sounder-needs-hold-off': {
    why: 'A voltage keeps it quiet; while wires change places it must not fail.',
    rule: 'Wired with hold-off, or triggered by removing a voltage.',
    source: 'Intruder-alarm textbook (howtoinstallalarms.com ch. 4).',
  },
  'sounder-sense-unfit': {
    why: 'With the wrong sense it sounds at rest and is silent in alarm.',
    rule: "What triggers it against the sense of the board's output; over a relay any sense can be made.",
    source: PRACTICE,
  },
  'sounder-no-cutoff': {
    why: 'A sounder that nobody stops is an offence in many places, and neighbours cut wires.',
    rule: 'The board states no longest time.',
    source:
      'UK 20 min (1982 code of practice); NSW 5 min; US cities 10 to 15 min; EN 50131-1 90 s to 15 min (from memory).',
  },
} as const satisfies Partial<Record<FindingCode, Reason>>;
