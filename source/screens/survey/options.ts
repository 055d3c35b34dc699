type Options = readonly (readonly [id: string, label: string])[];

/** What a survey may say of each thing, in the words of a question. */
export const FEEDS: Options = [
  ['plug-in-transformer', 'a transformer plugged into a socket'],
  ['dc-adapter', 'a DC adapter plugged into a socket'],
  ['hard-wired-transformer', 'a transformer wired to the mains'],
  ['mains-in-enclosure', 'mains goes into the enclosure'],
  ['unknown', 'not sure'],
];

export const SIGNALLING: Options = [
  ['none', 'not at all'],
  ['telephone', 'by telephone line'],
  ['network', 'by network'],
  ['radio', 'by radio'],
  ['unknown', 'not sure'],
];

export const SET: Options = [
  ['unset', 'unset'],
  ['service', 'in service mode'],
  ['set', 'set'],
  ['unknown', 'not sure'],
];

export const YES_NO: Options = [
  ['yes', 'yes'],
  ['no', 'no'],
  ['unknown', 'not sure'],
];

export const PRESENCE: Options = [
  ['none', 'none'],
  ['present', 'yes'],
  ['unknown', 'not sure'],
];

export const ENCLOSURES: Options = [
  ['metal', 'metal'],
  ['plastic', 'plastic'],
  ['wood', 'wood'],
  ['none', 'there is none'],
];

/** The boards that ship: a row's place is the digit that picks it. */
export const BOARDS: Options = [
  ['six-paired', 'six inputs, paired commons'],
  ['eight-paired', 'eight inputs, paired commons'],
  ['twelve-supervised', 'twelve supervised inputs'],
];

export const EMERGENCY_KEYS: Options = [
  ['none', 'it has none of them'],
  ['fire', 'fire'],
  ['medical', 'medical'],
  ['panic', 'panic'],
  ['unknown', 'not sure'],
];

export const STYLES: Options = [
  ['series', '--[ ]--[ ]--(R)--   contacts in a row, opened in alarm, one resistor'],
  ['plain', '--[ ]--[ ]--   contacts in a row, no resistor'],
  ['across', '==[ ]==[ ]==(R)   contacts across the pair, closed in alarm, one resistor at its end'],
  ['two-resistor', '--[ ]/(R2)--(R)--   two resistors: one of them across the contact'],
  ['mixed', 'both kinds of contact on one resistor'],
  ['bridged', 'each contact bridged by a resistor of its own'],
];

export const CONTACTS: Options = [
  ['normally-closed', 'closed at rest, opens in alarm'],
  ['normally-open', 'open at rest, closes in alarm'],
  ['changeover', 'changeover: both'],
  ['unknown', 'not known'],
];

export const PLACES: Options = [
  ['entry', 'on the way in'],
  ['perimeter', 'in the outer wall'],
  ['interior', 'inside'],
  ['outside', 'outside'],
];

export const JOINED: Options = [
  ['panel', 'each cable comes to the panel'],
  ['field', 'they go on from one to the next, out in the building'],
  ['unknown', 'not known'],
];

export const CONDUCTORS: Options = [
  ['22 AWG', '22 AWG'],
  ['0.22 mm2', '0.22 mm²'],
  ['18 AWG', '18 AWG'],
  ['24 AWG', '24 AWG'],
  ['unknown', 'not known'],
];
