/** One thing whose speed is measured, beside a baseline in the same run. */
export type Bench = {
  readonly name: string;
  /** Where it is not the time that counts: what `run` answers, in this unit. */
  readonly unit?: 'MB';
  /** Of the subject's median time, or of its ratio to the baseline's; both where both are given. */
  readonly target: { readonly milliseconds?: number; readonly ratio?: number };
  /** `null` where nothing does the same from outside. */
  readonly baseline: Side | null;
  readonly subject: Side;
};

export type Side = { readonly name: string; readonly run: () => unknown };
