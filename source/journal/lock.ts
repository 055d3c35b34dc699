import { join } from 'node:path';
import { deleteFile, readText, withFile, writeFully } from './disk.ts';
import { codeOf, diskError, JournalError } from './error.ts';
import type { System } from './system.ts';

/** The program that holds a lock: a pid alone may be given to another program later. */
type Holder = {
  readonly boot: string;
  /** For people: two computers may share a name, and one may be given another. */
  readonly host: string;
  /** Tells computers apart; a version before did not write it. */
  readonly machine?: string;
  readonly pid: number;
  readonly start: string | null;
};

/** Older generations that stay, so that whoever was slow to link one still sees a newer one. */
const KEPT_GENERATIONS = 8;

/**
 * One writer for a folder. Generation k of the lock is the file `locks/k`, made whole and then linked, so that
 * exactly one program gets it; the highest generation counts. It is free when its holder emptied it or is dead.
 * Nothing is judged by age: a computer may sleep, a clock may jump.
 */
export class Lock {
  #path: string;
  #unsavedPath: string;
  #system: System;

  private constructor(system: System, folder: string, generation: number) {
    this.#path = join(folder, String(generation));
    this.#unsavedPath = join(folder, 'unsaved');
    this.#system = system;
  }

  /** @throws JournalError `locked` while another program holds it, `io` where the disk knows no links */
  static acquire(dir: string, system: System): Lock {
    const { files } = system;
    const folder = join(dir, 'locks');
    try {
      files.mkdir(folder);
      for (;;) {
        const highest = highestIn(folder, system);
        if (highest > 0 && !isFree(join(folder, String(highest)), system)) continue;
        if (claim(folder, highest + 1, system)) return new Lock(system, folder, highest + 1);
      }
    } catch (error) {
      throw diskError(`${dir} cannot be locked`, error);
    }
  }

  /**
   * For a journal that is only read, so as to go on elsewhere: a disk that takes no lock any more hinders nobody.
   *
   * @throws JournalError `locked` while another program holds it
   */
  static acquireIfTaken(dir: string, system: System): Lock {
    try {
      return Lock.acquire(dir, system);
    } catch (error) {
      if (error instanceof JournalError && error.kind === 'locked') throw error;
      const folder = join(dir, 'locks');
      const highest = generationsOrNone(folder, system);
      if (highest > 0) isFree(join(folder, String(highest)), system);
      return new Lock(system, folder, highest);
    }
  }

  /**
   * Whether an fsync failed since the computer was started: what was then written can be read, and may yet not be
   * on the disk. After a restart only what is on the disk can be read.
   */
  get isUnsaved(): boolean {
    const { files } = this.#system;
    try {
      return readText(files, this.#unsavedPath) === this.#system.bootId();
    } catch (error) {
      if (codeOf(error) === 'ENOENT') return false;
      throw error;
    }
  }

  markUnsaved(): void {
    const { files } = this.#system;
    try {
      withFile(files, this.#unsavedPath, 'create', (fd) =>
        writeFully(files, fd, Buffer.from(this.#system.bootId())),
      );
    } catch {
      // Marked before, or a disk that takes nothing at all: then nothing will be written after it either.
    }
  }

  clearUnsaved(): void {
    deleteFile(this.#system.files, this.#unsavedPath);
  }

  release(): void {
    const { files } = this.#system;
    try {
      withFile(files, this.#path, 'append', (fd) => files.truncate(fd, 0));
    } catch {
      // The lock falls free with this program in any case.
    }
  }
}

function highestIn(folder: string, system: System): number {
  return generationsIn(folder, system).reduce((a, b) => Math.max(a, b), 0);
}

function generationsOrNone(folder: string, system: System): number {
  try {
    return highestIn(folder, system);
  } catch {
    return 0;
  }
}

function generationsIn(folder: string, { files }: System): number[] {
  return files
    .list(folder)
    .filter((name) => /^\d+$/.test(name))
    .map(Number);
}

/** Whether a generation may be followed; false too when it has just been cleared away, so look again. */
function isFree(path: string, system: System): boolean {
  const { files } = system;
  let text: string;
  try {
    text = readText(files, path);
  } catch (error) {
    if (codeOf(error) === 'ENOENT') return false;
    throw error;
  }
  if (text === '') return true;
  const holder = parseHolder(text);
  if (holder === null || isDead(holder, system)) return true;
  const isHere = isThisComputer(holder, system);
  const other = holder.host === system.host ? `another computer of the name ${holder.host}` : holder.host;
  const who = isHere ? `process ${holder.pid} on this computer` : `a program on ${other}`;
  const advice = isHere
    ? 'Nothing is lost: leave the program there, or end that process, and open the job here again.'
    : 'Nothing is lost: leave the program there first; if that computer is gone for good, delete the folder "locks" of this job.';
  throw new JournalError('locked', `This job is being written by ${who}. ${advice} Its lock is ${path}.`);
}

// Made whole before it was linked: what cannot be read was left by a power cut.
function parseHolder(text: string): Holder | null {
  try {
    return JSON.parse(text) as Holder;
  } catch {
    return null;
  }
}

/** Where nothing tells computers apart, they go by their names. */
function isThisComputer({ host, machine }: Holder, system: System): boolean {
  return machine && system.machine !== '' ? machine === system.machine : host === system.host;
}

function isDead(holder: Holder, system: System): boolean {
  if (!isThisComputer(holder, system)) return false;
  if (holder.boot !== system.bootId()) return true;
  const start = system.processStart(holder.pid);
  return start === null || start !== holder.start;
}

function claim(folder: string, generation: number, system: System): boolean {
  const { files, pid } = system;
  const start = system.processStart(pid);
  const { host, machine } = system;
  const holder: Holder = { boot: system.bootId(), host, machine, pid, start };
  const draft = join(folder, `.${pid}-${start ?? ''}-${Buffer.from(system.random(8)).toString('hex')}`);
  withFile(files, draft, 'create', (fd) => writeFully(files, fd, Buffer.from(JSON.stringify(holder))));
  try {
    files.link(draft, join(folder, String(generation)));
  } catch (error) {
    // Another computer on the same share may have taken the draft for one that was left behind.
    if (['EEXIST', 'ENOENT'].includes(codeOf(error))) return false;
    throw error;
  } finally {
    deleteFile(files, draft);
  }
  // Whoever was slow may have got a number that was used and cleared away meanwhile; the holder may clear it away again.
  if (highestIn(folder, system) > generation) {
    deleteFile(files, join(folder, String(generation)));
    return false;
  }
  clearAway(folder, generation, system);
  return true;
}

/** Removes generations that nobody can mistake for the newest, and drafts of programs that died over them. */
function clearAway(folder: string, generation: number, system: System): void {
  const { files } = system;
  for (const name of files.list(folder)) {
    const [, pid, start] = /^\.(\d+)-([^-]*)-/.exec(name) ?? [];
    const isAbandoned = pid !== undefined && system.processStart(Number(pid)) !== start;
    const isOld = /^\d+$/.test(name) && Number(name) <= generation - KEPT_GENERATIONS;
    if (isAbandoned || isOld) deleteFile(files, join(folder, name));
  }
}
