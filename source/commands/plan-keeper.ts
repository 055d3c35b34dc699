import { cacheFolder, surroundings } from '../folders.ts';
import type { PlanKeeper } from '../job/kept-plan.ts';
import { keep, readKept } from '../kept-file.ts';
import type { Context } from './command.ts';

/** SHA-256 of the program as it was bundled, in hex: put here by the build, and nothing where it runs from its sources. */
declare const PROGRAM_DIGEST: string;

/** That of ten detectors takes sixty kilobytes. */
const MOST_KEPT = 40;

/** Keeps plans beside the code that made them, in the person's cache folder. */
export function planKeeper({ env }: Pick<Context, 'env'>): PlanKeeper | undefined {
  if (typeof PROGRAM_DIGEST === 'undefined') return undefined;
  const folder = cacheFolder(surroundings(env));
  const nameOf = (key: string) => `${PROGRAM_DIGEST.slice(0, 24)}-${key}.plan`;
  return {
    read: (key) => readKept(folder, nameOf(key)),
    keep: (key, bytes) => keep(folder, nameOf(key), bytes, MOST_KEPT),
  };
}
