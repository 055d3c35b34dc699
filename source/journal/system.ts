import { randomBytes } from 'node:crypto';
import {
  closeSync,
  constants,
  existsSync,
  fchmodSync,
  fstatSync,
  fsyncSync,
  ftruncateSync,
  linkSync,
  lstatSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  renameSync,
  rmdirSync,
  unlinkSync,
  writeSync,
} from 'node:fs';
import { hostname, networkInterfaces, uptime } from 'node:os';
import { sha256 } from './digest.ts';

const { O_APPEND, O_CREAT, O_DIRECTORY, O_EXCL, O_NOFOLLOW, O_NONBLOCK, O_RDONLY, O_RDWR, O_WRONLY } =
  constants;

/** The ways a journal opens a file. No link is followed, no pipe waited for, and what is created did not exist. */
const WAYS = {
  read: O_RDONLY | O_NOFOLLOW | O_NONBLOCK,
  append: O_RDWR | O_APPEND | O_NOFOLLOW | O_NONBLOCK,
  // Not appending: with O_APPEND every write goes to the end, wherever it is meant for.
  rewrite: O_RDWR | O_NOFOLLOW | O_NONBLOCK,
  create: O_WRONLY | O_APPEND | O_CREAT | O_EXCL | O_NOFOLLOW,
  folder: O_RDONLY | O_DIRECTORY,
} as const;

export type Way = keyof typeof WAYS;

/** The calls of the system that a journal makes: the seam through which a test injects errors. */
export type JournalFiles = {
  open(path: string, way: Way): number;
  /** May return fewer bytes than asked for; 0 at the end. */
  read(fd: number, into: Buffer, offset: number, length: number, position: number): number;
  /** May write fewer bytes than given. */
  write(fd: number, from: Buffer, offset: number): number;
  /** Writes over what stands at `position`. */
  overwrite(fd: number, from: Buffer, offset: number, position: number): number;
  fsync(fd: number): void;
  truncate(fd: number, size: number): void;
  stat(fd: number): { readonly size: number; readonly nlink: number; readonly mode: number };
  chmod(fd: number, mode: number): void;
  close(fd: number): void;
  link(from: string, to: string): void;
  rename(from: string, to: string): void;
  unlink(path: string): void;
  list(folder: string): string[];
  /** With the folders above it, where they are missing. */
  mkdir(folder: string): void;
  /** An empty one. */
  rmdir(folder: string): void;
  /** A link is none, wherever it leads. */
  isFolder(path: string): boolean;
};

/** Everything a journal and a job take from outside: clock, chance, process and disk. */
export type System = {
  now(): Date;
  /** Never goes back; stands still while the computer sleeps. */
  monotonicMilliseconds(): number;
  /** Since the computer was started, sleep included. */
  uptimeMilliseconds(): number;
  /** Changes with every start of the computer. */
  bootId(): string;
  readonly pid: number;
  /** When a process began, in the system's own words; null if there is none. */
  processStart(pid: number): string | null;
  /** The name it goes by, which may change and which two computers may share. */
  readonly host: string;
  /** Tells this computer from others whatever their names; empty where the system gives nothing to tell by. */
  readonly machine: string;
  random(bytes: number): Uint8Array;
  readonly files: JournalFiles;
};

/** The disk itself. Files are 0600 and folders 0700, whatever the umask. */
export const realFiles: JournalFiles = {
  open: (path, way) => openSync(path, WAYS[way], 0o600),
  read: readSync,
  write: (fd, from, offset) => writeSync(fd, from, offset),
  overwrite: (fd, from, offset, position) => writeSync(fd, from, offset, from.length - offset, position),
  fsync: fsyncSync,
  truncate: ftruncateSync,
  stat: (fd) => fstatSync(fd),
  chmod: fchmodSync,
  close: closeSync,
  link: linkSync,
  rename: renameSync,
  unlink: unlinkSync,
  list: (folder) => readdirSync(folder),
  mkdir: (folder) => void mkdirSync(folder, { recursive: true, mode: 0o700 }),
  rmdir: rmdirSync,
  isFolder: (path) => lstatSync(path, { throwIfNoEntry: false })?.isDirectory() === true,
};

/** The clocks, chance, process and disk of this computer. */
export function realSystem(): System {
  let boot: string | null = null;
  let machine: string | null = null;
  return {
    now: () => new Date(),
    monotonicMilliseconds,
    uptimeMilliseconds,
    bootId: () => {
      boot ??= textOf('/proc/sys/kernel/random/boot_id') ?? '';
      return boot;
    },
    pid: process.pid,
    processStart,
    get host() {
      return hostname();
    },
    get machine() {
      machine ??= machineId();
      return machine;
    },
    random: randomBytes,
    files: realFiles,
  };
}

// The clock of `performance` is the same, and the first to ask for it waits until all that measures is loaded.
function monotonicMilliseconds(): number {
  const [seconds, nanoseconds] = process.hrtime();
  return seconds * 1000 + nanoseconds / 1e6;
}

function uptimeMilliseconds(): number {
  const seconds = Number(textOf('/proc/uptime')?.split(' ')[0] ?? uptime());
  return Math.round(seconds * 1000);
}

/** Field 22 of proc_pid_stat(5); a process that has ended and waits for its parent counts as gone. */
function processStart(pid: number): string | null {
  const stat = textOf(`/proc/${pid}/stat`);
  if (stat !== null) {
    const fields = stat.slice(stat.lastIndexOf(')') + 2).split(' ');
    return fields[0] === 'Z' || fields[0] === 'X' ? null : (fields[19] ?? null);
  }
  return existsSync('/proc/self/stat') ? null : processStartFromPs(pid);
}

function processStartFromPs(pid: number): string | null {
  // Loaded here, where it is wanted: it is slow to load, and a system with /proc never wants it.
  const { execFileSync } = process.getBuiltinModule('node:child_process');
  try {
    return execFileSync('ps', ['-o', 'lstart=', '-p', String(pid)], { encoding: 'utf8' }).trim() || null;
  } catch {
    return null;
  }
}

/**
 * machine-id(5) of systemd asks that it be not handed on as it is, but hashed with something of one's own. Where there
 * is none, the addresses of what is built in for networks.
 */
function machineId(): string {
  const id = textOf('/etc/machine-id') || textOf('/var/lib/dbus/machine-id') || hardwareAddresses();
  return id === '' ? '' : sha256(`loopward ${id}`).slice(0, 16);
}

function hardwareAddresses(): string {
  const addresses = Object.values(networkInterfaces()).flatMap((all) => (all ?? []).map(({ mac }) => mac));
  return addresses.filter((mac) => mac !== '00:00:00:00:00:00').sort()[0] ?? '';
}

function textOf(path: string): string | null {
  try {
    return readFileSync(path, 'utf8').trim();
  } catch {
    return null;
  }
}
