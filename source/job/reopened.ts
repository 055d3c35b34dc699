import type { JsonObject } from '../journal/canonical.ts';
import type { Reopens } from '../procedure/reopens.ts';
import { isObject } from './records.ts';

/** A line of the journal takes 64 KiB; what a record says besides has room in the rest. */
const MOST_CHARACTERS = 40 * 1024;

/**
 * What a record says of the steps that it reopens. Where they are too many for one line it says nothing, and they follow
 * from the stored steps, as in records of before.
 */
export function recordReopens(reopens: Reopens): JsonObject {
  return JSON.stringify(reopens).length > MOST_CHARACTERS
    ? {}
    : { reopens: reopens as unknown as JsonObject };
}

/** What a record says of the steps that it reopened; null where it says nothing. */
export function reopensIn({ reopens }: JsonObject): Reopens | null {
  return isObject(reopens) ? (reopens as unknown as Reopens) : null;
}
