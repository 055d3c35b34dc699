import { ChainCursor, type Fault } from './chain.ts';
import { withFile } from './disk.ts';
import { JournalError } from './error.ts';
import { LineReader } from './lines.ts';
import { partsAt } from './read.ts';
import { type JournalRecord, parseRecord } from './record.ts';
import type { PartScan } from './scan.ts';
import { type JournalFiles, realFiles } from './system.ts';

/** A record as it stands in a file. Not proved: it follows damage, or is damaged itself, so that anybody may have written it. */
export type Read = { readonly record: JournalRecord; readonly proved: boolean };

/**
 * Every record that can be read, those behind damage too: first all that the chain proves, then what stands behind the
 * good records of each part and still has the form of a record.
 *
 * @returns the damage that the record ends in, or null: damage that another part took over is known and passed
 * @throws JournalError `missing`, `io`
 */
export function* readBeyond(path: string, files: JournalFiles = realFiles): Generator<Read, Fault | null> {
  const { parts, from } = partsAt(files, path);
  const cursor = new ChainCursor(files, parts, { full: true }, from);
  try {
    while (cursor.next()) if (cursor.record !== null) yield { record: cursor.record, proved: true };
    const found = cursor.finish();
    for (const { part, scan } of found.parts) {
      if (scan.rest === 'none' && found.fault?.file !== part.name) continue;
      for (const record of withFile(files, part.path, 'read', (fd) => behind(files, fd, scan)))
        yield { record, proved: false };
    }
    return found.parts.at(-1)?.scan.rest === 'broken' ? found.fault : null;
  } finally {
    cursor.close();
  }
}

/** That damage was met, for whoever can do nothing with what is not proved. */
export function damageError({ n, file, says }: Fault): JournalError {
  return new JournalError('broken', `Record ${n} of ${file} is damaged: ${says}. Verify the job.`);
}

function behind(files: JournalFiles, fd: number, { goodBytes, sizeBytes }: PartScan): JournalRecord[] {
  const reader = new LineReader(files, fd);
  const records: JournalRecord[] = [];
  while (reader.next()) {
    const { start, end, offset, ended, buffer } = reader;
    // Another program may have written on since.
    if (offset + end - start >= sizeBytes) break;
    if (offset < goodBytes || !ended) continue;
    const record = parseRecord(buffer.subarray(start, end));
    if (record !== null) records.push(record);
  }
  return records;
}
