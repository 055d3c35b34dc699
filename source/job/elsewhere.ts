import { accessSync, constants, existsSync, readdirSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join } from 'node:path';

/** Where removable disks appear, and on which disk a folder lies; a test hands in its own. */
export type Disks = {
  /** Folders that may take a job: each is the top of a disk, or a person's own. */
  readonly places: readonly string[];
  /** Which disk a folder is on; null where it cannot be reached or not be written to. */
  readonly diskOf: (folder: string) => number | null;
  /** As {@link diskOf}, whether it can be written to or not. */
  readonly diskAt: (folder: string) => number | null;
};

/**
 * Where a job may go on whose own folder takes no more records: another disk first, for this one may be failing. The
 * folder that is offered is new, under the job's own name.
 */
export function foldersElsewhere(dir: string, disks: Disks): string[] {
  // A folder that takes nothing more is on a disk all the same.
  const own = disks.diskAt(dirname(dir));
  const reachable = disks.places.filter((place) => disks.diskOf(place) !== null);
  const others = reachable.filter((place) => disks.diskOf(place) !== own);
  const same = reachable.filter((place) => disks.diskOf(place) === own);
  return [...new Set([...others, ...same, dirname(dir)])].map((place) => free(join(place, basename(dir))));
}

/** The disks of this computer: what is plugged in, the person's own folder, and where everybody may write. */
export function disksHere(home: string, user: string): Disks {
  const plugged = [`/media/${user}`, `/run/media/${user}`, '/Volumes'].flatMap((folder) =>
    namesIn(folder).map((name) => join(folder, name)),
  );
  return { places: [...plugged, home, tmpdir()], diskOf, diskAt };
}

function diskOf(folder: string): number | null {
  try {
    accessSync(folder, constants.W_OK | constants.X_OK);
    return diskAt(folder);
  } catch {
    return null;
  }
}

function diskAt(folder: string): number | null {
  try {
    return statSync(folder).dev;
  } catch {
    return null;
  }
}

function namesIn(folder: string): string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

function free(path: string): string {
  if (!existsSync(path)) return path;
  for (let number = 2; ; number++) if (!existsSync(`${path}-${number}`)) return `${path}-${number}`;
}
