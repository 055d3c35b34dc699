import { describe, expect, test } from 'vitest';
import { JournalError } from '../../source/journal/error.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import type { JournalFiles } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { report, scale } from '../scale.ts';
import { MemoryDisk, type SectorFate } from './memory-disk.ts';
import { DIR } from './sample.ts';
import { fakeSystem, PATIENCE, seeded } from './world.ts';

/*
 * What is simulated: a disk in user space that keeps, per file, what fsync has confirmed. The power goes between any
 * two calls of the journal, or in the middle of one. Of what was not confirmed each 512-byte sector is, by chance,
 * old, new, zeros or noise; the file may have grown or not; names may be there or not unless the folder was synced.
 * It checks the order of the journal's writes and syncs. It says nothing of the firmware of a drive that confirms
 * what it has not written.
 */

const CUTS = scale(500, 0.4);

class PowerCut extends Error {}

/** A disk on which the power goes at the k-th call that changes it. */
function cutAt(disk: MemoryDisk, at: number): JournalFiles {
  let calls = 0;
  return new Proxy(disk, {
    get(target, name: keyof JournalFiles) {
      const call = target[name];
      if (typeof call !== 'function') return call;
      const bound = (call as (...args: unknown[]) => unknown).bind(target);
      if (!['write', 'overwrite', 'fsync', 'truncate', 'link', 'rename', 'unlink', 'chmod'].includes(name))
        return bound;
      return (...args: unknown[]) => {
        calls += 1;
        if (calls === at && name === 'write') bound(...args);
        if (calls >= at) throw new PowerCut();
        return bound(...args);
      };
    },
  });
}

function unsynced(files: JournalFiles): JournalFiles {
  return new Proxy(files, {
    get: (target, name) => (name === 'fsync' ? () => undefined : target[name as 'fsync']),
  });
}

/** Works until the power goes; what was acknowledged by then. */
function workUntilCut(files: JournalFiles, acknowledged: JournalRecord[]): void {
  const system = fakeSystem(files);
  try {
    const open = () => {
      try {
        return Journal.open(DIR, system);
      } catch (error) {
        if (!(error instanceof JournalError && error.kind === 'missing')) throw error;
        return Journal.create(DIR, { job: 'hsc-7' }, system);
      }
    };
    let journal = open();
    if (journal.isSealed) journal = journal.continueIn();
    for (let i = 0; i < 12; i += 1)
      acknowledged.push(journal.append('act', { i, text: 'x'.repeat((i * 97) % 900) }));
    if (!files.list(DIR).includes('seal.txt')) {
      journal.seal({});
      acknowledged.push(journal.lastRecord!);
    }
  } catch (error) {
    // Damage, and what was closed for writing because of it, is counted from the disk, afterwards.
    const isShut = error instanceof JournalError && ['broken', 'io'].includes(error.kind);
    if (!isCut(error) && !isShut) throw error;
  }
}

function isCut(error: unknown): boolean {
  for (let cause = error; cause instanceof Error; cause = cause.cause)
    if (cause instanceof PowerCut) return true;
  return false;
}

function run(cuts: number, wrap: (files: JournalFiles) => JournalFiles) {
  const random = seeded(2_026);
  const fates: readonly SectorFate[] = ['old', 'new', 'zero', 'noise'];
  let acknowledgedAll = 0;
  let lost = 0;
  let mended = 0;
  let broken = 0;
  for (let round = 0; round < cuts; round += 1) {
    let disk = new MemoryDisk();
    const acknowledged: JournalRecord[] = [];
    // Two or three cuts one after the other, so that the recovery from a cut is cut as well.
    for (let sitting = 0; sitting < 3; sitting += 1) {
      const at = 1 + Math.floor(random() * 60);
      workUntilCut(wrap(cutAt(disk, at)), acknowledged);
      disk = disk.afterPowerCut(
        () => fates[Math.floor(random() * fates.length)]!,
        () => Math.floor(random() * 256),
        { sizeFirst: random() < 0.5, namesKept: random() < 0.5 },
      );
    }
    acknowledgedAll += acknowledged.length;
    const found = new Set<string>();
    try {
      for (const { sha256 } of readRecords(DIR, disk)) found.add(sha256);
    } catch {
      // Counted below: what is not found is lost.
    }
    lost += acknowledged.filter(({ sha256 }) => !found.has(sha256)).length;
    const hasJournal = disk.names.has(DIR) && disk.list(DIR).some((name) => name.endsWith('.jsonl'));
    if (!hasJournal) continue;
    const verdict = verifyJournal(DIR, { files: disk });
    if (verdict.repaired) mended += 1;
    if (['broken', 'replaced', 'truncated'].includes(verdict.outcome)) broken += 1;
  }
  return { cuts: cuts * 3, acknowledged: acknowledgedAll, lost, broken, mended };
}

describe('a power cut', () => {
  test('loses no acknowledged record and leaves nothing that cannot be mended', PATIENCE, () => {
    const result = run(CUTS, (files) => files);
    report('simulated power cuts', [result]);
    expect(result).toMatchObject({ lost: 0, broken: 0 });
    expect(result.acknowledged).toBeGreaterThan(CUTS * 4);
    expect(result.mended).toBeGreaterThan(0);
  });

  test('without fsync it loses records: the check can fail', PATIENCE, () => {
    const result = run(CUTS, unsynced);
    report('simulated power cuts, control without fsync', [result]);
    expect(result.lost).toBeGreaterThan(result.acknowledged / 2);
  });
});
