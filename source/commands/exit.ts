/** Exit codes, the only place where they are numbers. */
export const EXIT = {
  done: 0,
  /** A defect in the program. */
  defect: 1,
  /** Wrong use or unreadable input. */
  usage: 2,
  /** A gate, or a plan that must not go ahead. */
  refused: 3,
  /** A record failed verification. */
  record: 4,
} as const;
/** One of {@link EXIT}. */
export type ExitCode = (typeof EXIT)[keyof typeof EXIT];

/**
 * An end that was to be expected: what is so and what to do, for standard error, and the exit code that
 * goes with it. Everything else that is thrown is a defect.
 */
export class Ending extends Error {
  readonly code: ExitCode;
  constructor(kind: keyof typeof EXIT, says: string) {
    super(says);
    this.name = 'Ending';
    this.code = EXIT[kind];
  }
}
