/** What was heard of the boards, as whoever listens hands it in: the job knows nothing of how. */
export type Hearing = {
  readonly hears: boolean;
  readonly nowMilliseconds: number;
  readonly inputs: ReadonlyMap<string, HeardState>;
  /** In the order in which they were heard. */
  readonly changes: readonly HeardChange[];
  readonly deaf: readonly { readonly fromMilliseconds: number; readonly toMilliseconds: number | null }[];
  /** The next change will have this number. */
  readonly seq: number;
};

/** How an input stands; `kept`: as it was told earlier, which may be so no more. */
export type HeardState = {
  readonly state: 'open' | 'closed';
  readonly atMilliseconds: number;
  readonly kept: boolean;
};

/** A change of an input. `more`: so many followed too fast to be told one by one. */
export type HeardChange = {
  readonly seq: number;
  readonly board: string;
  readonly input: string;
  readonly state: 'open' | 'closed';
  readonly atMilliseconds: number;
  readonly more: number;
};

/** What the program heard for one answer, as the record keeps it beside what the person confirmed. */
export type HeardAnswer = {
  readonly state: 'open' | 'closed' | 'nothing';
  /** When, in UTC; null where nothing was heard. */
  readonly at: string | null;
  /** Other inputs that moved with it, or instead of it: `b1/5`. */
  readonly others: readonly string[];
  /** How often it changed while it was looked at. */
  readonly changes: number;
  /** How long nothing could be heard meanwhile, in whole seconds. */
  readonly deafSeconds: number;
};

/** The name of an input in what was heard. */
export function inputIdOf({ board, input }: { readonly board: string; readonly input: string }): string {
  return `${board}/${input}`;
}

/** Whole seconds without hearing between two moments, a begun one counted as one. */
export function deafSecondsIn({ deaf }: Pick<Hearing, 'deaf'>, from: number, to: number): number {
  const milliseconds = deaf.reduce((sum, gap) => {
    const overlap = Math.min(gap.toMilliseconds ?? to, to) - Math.max(gap.fromMilliseconds, from);
    return sum + Math.max(0, overlap);
  }, 0);
  return Math.ceil(milliseconds / 1000);
}
