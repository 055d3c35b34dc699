/** One step of a calculation as it would stand on paper. */
export type Working = {
  readonly formula: string;
  /** The formula with its figures put in, and what comes out. */
  readonly figures: string;
  readonly source: string;
};

/** What a calculation answers: one line of words, the working behind it, and the figures for programs. */
export type Answer = {
  readonly says: string;
  readonly drawing?: readonly string[];
  readonly working: readonly Working[];
  readonly json: Readonly<Record<string, unknown>>;
};

/** A figure in a working: enough places to follow it by hand. */
export function figure(value: number, digits = 4): string {
  return String(Number(value.toPrecision(digits)));
}

/** The working as lines for people. */
export function workingLines(working: readonly Working[]): string[] {
  return working.flatMap(({ formula, figures, source }) => [
    `  ${formula}`,
    `    ${figures}`,
    `    source: ${source}`,
  ]);
}

/** JSON of figures without the dust of binary fractions: twelve digits are more than anything here has. */
export function jsonOf(value: unknown): string {
  return JSON.stringify(value, (_, part) =>
    typeof part === 'number' && Number.isFinite(part) ? Number(part.toPrecision(12)) : part,
  );
}
