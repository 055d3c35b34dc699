import { planCorrection, sayCorrection } from './correct.ts';
import { planOfBasis } from './plan-of-basis.ts';
import type { Planner } from './planner.ts';

/** The planner there is. */
export const PLANNER: Planner = { plan: planOfBasis, correct: planCorrection, say: sayCorrection };
