/**
 * Something in a file that cannot be used as it stands. Problems are values: a reader collects all of them,
 * and whoever shows them says file, line and field before the two sentences.
 */
export type Problem = {
  readonly file: string;
  /** Counted from 1; null where the file has no such place, as for an empty file. */
  readonly line: number | null;
  /** `zones.z1.loop.resistor`: lists by their entries' ids, else counted from 1. Empty: the file as a whole. */
  readonly field: string;
  /** One sentence of what is so. */
  readonly says: string;
  /** What would be accepted there. */
  readonly accepts: string;
};

/** A problem by its place in the document, before file and line are known. */
export type Trouble = { readonly at: Path; readonly says: string; readonly accepts: string };

/** Keys and positions (from 0) from the top of a document down to a value. */
export type Path = readonly (string | number)[];

/**
 * The line in which people are told of a problem.
 *
 * @example problemToText({file: 's.yaml', line: 3, field: 'cables.c1.length', says: '"14" has no unit.', accepts: '14 m or 46 ft'}) // => 's.yaml:3: cables.c1.length: "14" has no unit. Accepted: 14 m or 46 ft.'
 */
export function problemToText({ file, line, field, says, accepts }: Problem): string {
  const place = line === null ? file : `${file}:${line}`;
  return `${place}: ${field === '' ? '' : `${field}: `}${says} Accepted: ${accepts}.`;
}

/** Choices as a sentence part. `orWords(['yes', 'no', 'unknown'])` gives `yes, no or unknown`. */
export function orWords(choices: readonly string[]): string {
  if (choices.length < 2) return choices.join('');
  return `${choices.slice(0, -1).join(', ')} or ${choices.at(-1)}`;
}
