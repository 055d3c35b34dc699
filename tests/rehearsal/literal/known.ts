/**
 * What a literal technician meets today and should not, each with a drawn site on which it is met. A card that is put
 * right makes the test ask for its line to go; the list is to be empty.
 */
export const KNOWN: Readonly<Record<string, number>> = {
  'loud negative-removed': 18,
  'loud positive-removed': 1,
  'reading walk.sounder failed': 1,
  'reading walk.sounder sound': 1,
  'unproved clear.aux lift': 2,
  'unproved clear.keypad lift': 1,
  'unproved clear.sounder lift': 1,
  'unproved clear.strip lift': 1,
  'unproved cold.aux ohms': 1,
  'unproved measure lift': 2,
  'unproved resistors ohms': 1,
  'unproved resistors remove-resistor': 1,
  'unproved rewire land': 1,
  'unproved rewire ohms': 1,
  'unproved split ohms': 2,
  'unproved split part': 2,
  'unproved resistors splice': 3,
  'unproved resistors set-jumper': 3,
  'unproved resistors move': 21,
  'loud positive-applied': 43,
  'unproved clear.panel remove-resistor': 5,
  'unproved clear.strip part': 213,
  'unproved clear.ends part': 182,
};
