/** Why a finding is made: the rule behind it, in words and where possible as a formula, and who says so. */
export type Reason = { readonly why: string; readonly rule: string; readonly source: string };

/** A habit that everybody in the trade knows and no standard states. */
export const PRACTICE = 'Common practice, no source.';
