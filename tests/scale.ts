/** True while the issues' figures are run in full: `npm run proof`. */
export const PROOF = process.env.LOOPWARD_PROOF !== undefined;

/**
 * How many of a large figure to run: all of them in the proof, a stated share in every test run.
 *
 * @param full the figure in full
 * @param share the part of it an ordinary run takes, over 0 up to 1
 */
export function scale(full: number, share: number): number {
  return PROOF ? full : Math.max(1, Math.round(full * share));
}

/** Prints a table of what a check measured; quiet in an ordinary run. */
export function report(title: string, rows: Record<string, unknown>[]): void {
  if (!PROOF) return;
  console.log(`\n## ${title}`);
  console.table(rows);
}
