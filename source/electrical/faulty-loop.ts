import type { Cause } from './causes.ts';
import type { SuspectedLoop } from './suspected-loop.ts';

/** A loop with one fault in it, under the fault's name. */
export type FaultyLoop = SuspectedLoop & { readonly cause: Cause };
