import { storedWiring } from '../plan/stored-plan.ts';
import { asItIs, asPlanned } from './as-it-is.ts';
import type { AsLeft } from './as-left-record.ts';
import { differencesOf } from './differences.ts';
import type { Replay } from './replay.ts';

/**
 * How a job's wiring stands: as it was stored at its close, or folded from what is on record as done. A job that was
 * opened before acts were recorded has none, and is told from its own records.
 */
export function asLeft(replay: Replay): AsLeft | null {
  const stored = replay.storedAsLeft;
  if (stored !== null) return stored;
  const { basis, firstBasis, procedure, state, results } = replay;
  if (basis.plan === null || firstBasis.plan === null) return null;
  const asFound = storedWiring(basis.plan);
  const standing = asItIs(asFound, procedure, state, results);
  const differs = differencesOf(asPlanned(asFound, procedure, state, results), standing.wiring, results);
  return { ...standing, differs };
}
