declare module 'resistor-data' {
  /** `['4k7', 5]` of the bands of a 4- or 5-band resistor. */
  export function bandsToNotation(bands: readonly string[], count: 4 | 5): [string, number];
}

declare module 'electro-grammar' {
  export function parse(text: string): { type?: string; resistance?: number; tolerance?: number };
}
