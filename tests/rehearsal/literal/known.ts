/**
 * What a literal technician meets today and should not, each with a drawn site on which it is met. A card that is put
 * right makes the test ask for its line to go; the list is to be empty.
 */
export const KNOWN: Readonly<Record<string, number>> = {};
