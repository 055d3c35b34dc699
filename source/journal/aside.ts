import { dirname, join } from 'node:path';
import { sha256 } from './digest.ts';
import { syncFolder } from './disk.ts';
import { codeOf, JournalError } from './error.ts';
import type { JournalFiles, System } from './system.ts';

const NAME = /^\.([a-z-]+)-([0-9a-f]{8})-([0-9a-f]{8}-\d+-[0-9a-f]{8})\.making$/;
const MAKER = /^([0-9a-f]{8})-(\d+)-([0-9a-f]{8})$/;

/**
 * Whether a folder of this name is being made, or was when a program was killed: whoever lists jobs passes over it.
 *
 * @example isBeingMade('.start-0a1b2c3d-0a1b2c3d-4711-0a1b2c3d.making') // => true
 */
export function isBeingMade(name: string): boolean {
  return NAME.test(name);
}

/**
 * Where a folder is made before it gets its name, beside where it will stand.
 *
 * @param what the kind of making: `start`, `carry-on`
 * @param key what is made, and from what: by it the same making finds what it left when it was killed
 */
export function asideOf(folder: string, what: string, key: string, system: System): string {
  return join(dirname(folder), `.${what}-${short(key)}-${makerOf(system)}.making`);
}

/** Folders of a kind that programs left when they were killed over them. @param key only those of this key */
export function abandonedIn(parent: string, what: string, system: System, key?: string): string[] {
  return namesIn(system.files, parent)
    .filter((name) => {
      const [, kind, of, maker = ''] = NAME.exec(name) ?? [];
      return kind === what && (key === undefined || of === short(key)) && isMakerGone(maker, system);
    })
    .map((name) => join(parent, name));
}

/** This program, so that another one can tell later whether it still runs. */
export function makerOf(system: System): string {
  const { pid, machine } = system;
  return `${short(machine)}-${pid}-${short(startOf(pid, system))}`;
}

/** Whether a program ran on this computer and has ended; of another computer nobody here can tell. */
export function isMakerGone(maker: string, system: System): boolean {
  const [, machine, pid, start] = MAKER.exec(maker) ?? [];
  if (machine !== short(system.machine)) return false;
  return system.processStart(Number(pid)) === null || short(startOf(Number(pid), system)) !== start;
}

/**
 * Gives a folder that is whole its name: from then on it is there for everybody, durably.
 *
 * @throws JournalError `exists` where something stands there already
 */
export function takeName(files: JournalFiles, aside: string, folder: string): void {
  syncFolder(files, aside);
  try {
    files.rename(aside, folder);
  } catch (error) {
    if (!['ENOTEMPTY', 'EEXIST', 'ENOTDIR'].includes(codeOf(error))) throw error;
    throw new JournalError('exists', `${folder} holds something already. Give another folder.`, error);
  }
  syncFolder(files, dirname(folder));
}

/** Deletes a folder with all that is in it; a link in it goes, not what it leads to. Nothing there is fine too. */
export function removeFolder(files: JournalFiles, folder: string): void {
  for (const name of namesIn(files, folder)) {
    const path = join(folder, name);
    if (files.isFolder(path)) removeFolder(files, path);
    else files.unlink(path);
  }
  try {
    files.rmdir(folder);
  } catch (error) {
    if (codeOf(error) !== 'ENOENT') throw error;
  }
}

function startOf(pid: number, system: System): string {
  return `${system.processStart(pid)} ${system.bootId()}`;
}

function short(text: string): string {
  return sha256(text).slice(0, 8);
}

function namesIn(files: JournalFiles, folder: string): string[] {
  try {
    return files.list(folder);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return [];
    throw error;
  }
}
