import { planCorrection, sayCorrection } from './correct.ts';
import { planOfBasis } from './plan-of-basis.ts';

/**
 * What plans: most of the program, and most actions need none of it. So whoever opens a job hands it in, at once or before
 * the action that asks for it.
 */
export type Planning = Readonly<typeof PLANNING>;

export const PLANNING = { planOfBasis, planCorrection, sayCorrection };
