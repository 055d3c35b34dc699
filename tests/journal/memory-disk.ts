import { dirname } from 'node:path';
import type { JournalFiles, Way } from '../../source/journal/system.ts';

type Extent = { readonly start: number; readonly end: number };

/** A file: what programs see, and what a power cut would leave. */
class Node {
  data: Buffer = Buffer.alloc(0);
  synced: Buffer = Buffer.alloc(0);
  dirty: Extent[] = [];
  mode: number;
  nlink = 1;
  readonly folder: boolean;

  constructor(mode: number, folder: boolean) {
    this.mode = mode;
    this.folder = folder;
  }

  copy(): Node {
    const copy = new Node(this.mode, this.folder);
    copy.data = Buffer.from(this.data);
    copy.synced = Buffer.from(this.synced);
    copy.dirty = [...this.dirty];
    copy.nlink = this.nlink;
    return copy;
  }
}

/** What a power cut leaves of a sector that was on its way: nothing, all of it, zeros, or noise. */
export type SectorFate = 'old' | 'new' | 'zero' | 'noise';

const SECTOR = 512;

function systemError(code: string, path = ''): Error {
  return Object.assign(new Error(`${code} ${path}`), { code });
}

/**
 * A disk in memory with the promises of POSIX and no more: content is durable after fsync of the file, names after
 * fsync of the folder. A failed fsync loses what it should have saved, although later calls succeed.
 */
export class MemoryDisk implements JournalFiles {
  names = new Map<string, Node>();
  durableNames = new Map<string, Node>();
  #open = new Map<number, { node: Node; path: string; way: Way }>();
  #nextFd = 100;

  open(path: string, way: Way): number {
    const found = this.names.get(path);
    if (way === 'create') {
      if (found) throw systemError('EEXIST', path);
      this.names.set(path, new Node(0o600, false));
    } else if (!found) throw systemError('ENOENT', path);
    this.#open.set(++this.#nextFd, { node: this.names.get(path)!, path, way });
    return this.#nextFd;
  }

  read(fd: number, into: Buffer, offset: number, length: number, position: number): number {
    return this.#node(fd).data.copy(into, offset, position, position + length);
  }

  write(fd: number, from: Buffer, offset: number): number {
    const node = this.#node(fd);
    const start = node.data.length;
    node.data = Buffer.concat([node.data, from.subarray(offset)]);
    node.dirty.push({ start, end: node.data.length });
    return from.length - offset;
  }

  overwrite(fd: number, from: Buffer, offset: number, position: number): number {
    const { data, dirty } = this.#node(fd);
    from.copy(data, position, offset);
    dirty.push({ start: position, end: position + from.length - offset });
    return from.length - offset;
  }

  fsync(fd: number): void {
    const { node, path } = this.#entry(fd);
    if (node.folder) this.#syncNames(path);
    else {
      node.synced = overlay(node.synced, node.data, node.dirty).subarray(0, node.data.length);
      node.dirty = [];
    }
  }

  /** What a failed fsync does: the pages count as written, and are not. */
  failFsync(fd: number): void {
    this.#node(fd).dirty = [];
  }

  truncate(fd: number, size: number): void {
    const node = this.#node(fd);
    node.data = node.data.subarray(0, size);
    node.dirty = node.dirty
      .map(({ start, end }) => ({ start, end: Math.min(end, size) }))
      .filter(({ start, end }) => end > start);
  }

  stat(fd: number) {
    const { data, nlink, mode } = this.#node(fd);
    return { size: data.length, nlink, mode };
  }

  chmod(fd: number, mode: number): void {
    this.#node(fd).mode = mode;
  }

  close(fd: number): void {
    if (!this.#open.delete(fd)) throw systemError('EBADF');
  }

  link(from: string, to: string): void {
    const node = this.#named(from);
    if (this.names.has(to)) throw systemError('EEXIST', to);
    node.nlink += 1;
    this.names.set(to, node);
  }

  rename(from: string, to: string): void {
    const node = this.#named(from);
    this.names.set(to, node);
    this.names.delete(from);
    if (!node.folder) return;
    for (const names of [this.names, this.durableNames]) {
      for (const [path, inside] of [...names]) {
        if (!path.startsWith(`${from}/`)) continue;
        names.set(`${to}${path.slice(from.length)}`, inside);
        names.delete(path);
      }
    }
  }

  rmdir(folder: string): void {
    if (this.list(folder).length > 0) throw systemError('ENOTEMPTY', folder);
    this.names.delete(folder);
  }

  isFolder(path: string): boolean {
    return this.names.get(path)?.folder === true;
  }

  unlink(path: string): void {
    this.#named(path).nlink -= 1;
    this.names.delete(path);
  }

  list(folder: string): string[] {
    const found = this.names.get(folder);
    if (!found?.folder) throw systemError(found ? 'ENOTDIR' : 'ENOENT', folder);
    const inside = `${folder}/`;
    return [...this.names.keys()]
      .filter((path) => path.startsWith(inside) && !path.slice(inside.length).includes('/'))
      .map((path) => path.slice(inside.length));
  }

  mkdir(folder: string): void {
    if (folder === '/' || this.names.has(folder)) return;
    this.mkdir(dirname(folder));
    const node = new Node(0o700, true);
    this.names.set(folder, node);
    // The folder of a job is made durable by whoever makes the job; here the question is what is in it.
    this.durableNames.set(folder, node);
  }

  /** The bytes of a file, as programs see them. */
  bytes(path: string): Buffer {
    return this.#named(path).data;
  }

  put(path: string, bytes: Buffer): void {
    const node = this.names.get(path) ?? new Node(0o600, false);
    node.data = Buffer.from(bytes);
    node.synced = Buffer.from(bytes);
    node.dirty = [];
    this.names.set(path, node);
    this.durableNames.set(path, node);
  }

  /** The disk as another program finds it after this one was killed: open files are closed, nothing is lost. */
  afterKill(): MemoryDisk {
    const disk = new MemoryDisk();
    const copies = new Map<Node, Node>();
    const copyOf = (node: Node) => {
      const copy = copies.get(node) ?? node.copy();
      copies.set(node, copy);
      return copy;
    };
    for (const [path, node] of this.names) disk.names.set(path, copyOf(node));
    for (const [path, node] of this.durableNames) disk.durableNames.set(path, copyOf(node));
    return disk;
  }

  /**
   * The disk after a power cut. `fate` decides for each sector that was on its way; `sizeFirst` whether the file
   * had grown already. Names are those that were durable, or all where `namesKept`.
   */
  afterPowerCut(
    fate: () => SectorFate,
    noise: () => number,
    { sizeFirst, namesKept }: { sizeFirst: boolean; namesKept: boolean },
  ): MemoryDisk {
    const disk = new MemoryDisk();
    for (const [path, node] of namesKept ? this.names : this.durableNames) {
      const copy = new Node(node.mode, node.folder);
      copy.data = node.folder ? copy.data : cut(node, fate, noise, sizeFirst);
      copy.synced = Buffer.from(copy.data);
      disk.names.set(path, copy);
      disk.durableNames.set(path, copy);
    }
    return disk;
  }

  #syncNames(folder: string): void {
    const isInside = (path: string) =>
      path.startsWith(`${folder}/`) && !path.slice(folder.length + 1).includes('/');
    for (const path of this.durableNames.keys())
      if (isInside(path) && !this.names.has(path)) this.durableNames.delete(path);
    for (const [path, node] of this.names) if (isInside(path)) this.durableNames.set(path, node);
  }

  #entry(fd: number) {
    const entry = this.#open.get(fd);
    if (!entry) throw systemError('EBADF');
    return entry;
  }

  #node(fd: number): Node {
    return this.#entry(fd).node;
  }

  #named(path: string): Node {
    const node = this.names.get(path);
    if (!node) throw systemError('ENOENT', path);
    return node;
  }
}

function overlay(below: Buffer, above: Buffer, extents: readonly Extent[]): Buffer {
  const result = Buffer.alloc(Math.max(below.length, above.length));
  below.copy(result);
  for (const { start, end } of extents) above.copy(result, start, start, end);
  return result;
}

function cut(node: Node, fate: () => SectorFate, noise: () => number, sizeFirst: boolean): Buffer {
  const size = sizeFirst ? Math.max(node.synced.length, node.data.length) : node.synced.length;
  const result: Buffer = Buffer.alloc(size);
  node.synced.copy(result);
  for (const { start, end } of node.dirty) {
    for (let from = start; from < Math.min(end, size); ) {
      const to = Math.min(end, size, (Math.floor(from / SECTOR) + 1) * SECTOR);
      const decided = fate();
      if (decided === 'new') node.data.copy(result, from, from, to);
      if (decided === 'zero') result.fill(0, from, to);
      if (decided === 'noise') for (let i = from; i < to; i += 1) result[i] = noise();
      from = to;
    }
  }
  return result;
}
