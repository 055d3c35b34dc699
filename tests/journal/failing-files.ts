import type { JournalFiles } from '../../source/journal/system.ts';
import type { MemoryDisk } from './memory-disk.ts';

export type Failure = {
  /** The call that fails, counted from 1 over all calls but close. */
  readonly at: number;
  readonly code: string;
  readonly forEver: boolean;
  /** Bytes that a failing write takes before it fails. */
  readonly partial: number;
};

export type FailingFiles = JournalFiles & { readonly calls: string[] };

/** A disk whose k-th call fails, once or for ever after; a failed fsync loses what it should have saved. */
export function failingFiles(disk: MemoryDisk, failure: Failure | null): FailingFiles {
  const calls: string[] = [];
  const counted = <A extends unknown[], R>(name: keyof JournalFiles, call: (...args: A) => R) => {
    return (...args: A): R => {
      calls.push(name);
      const fails =
        failure !== null && (calls.length === failure.at || (failure.forEver && calls.length > failure.at));
      if (!fails) return call(...args);
      if (name === 'fsync') disk.failFsync(args[0] as number);
      if (name === 'write' && failure.partial > 0) {
        const [fd, from, offset] = args as unknown as [number, Buffer, number];
        disk.write(fd, from.subarray(0, offset + failure.partial), offset);
      }
      throw Object.assign(new Error(failure.code), { code: failure.code });
    };
  };
  return {
    calls,
    open: counted('open', disk.open.bind(disk)),
    read: counted('read', disk.read.bind(disk)),
    write: counted('write', disk.write.bind(disk)),
    overwrite: counted('overwrite', disk.overwrite.bind(disk)),
    fsync: counted('fsync', disk.fsync.bind(disk)),
    truncate: counted('truncate', disk.truncate.bind(disk)),
    stat: counted('stat', disk.stat.bind(disk)),
    chmod: counted('chmod', disk.chmod.bind(disk)),
    link: counted('link', disk.link.bind(disk)),
    rename: counted('rename', disk.rename.bind(disk)),
    unlink: counted('unlink', disk.unlink.bind(disk)),
    list: counted('list', disk.list.bind(disk)),
    mkdir: counted('mkdir', disk.mkdir.bind(disk)),
    rmdir: counted('rmdir', disk.rmdir.bind(disk)),
    isFolder: counted('isFolder', disk.isFolder.bind(disk)),
    close: disk.close.bind(disk),
  };
}
