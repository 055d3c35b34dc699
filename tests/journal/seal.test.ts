import { createPublicKey, generateKeyPairSync, sign, verify } from 'node:crypto';
import { describe, expect, test } from 'vitest';
import { formatHead, headToReadOut, parseHead } from '../../source/journal/head.ts';
import { Journal } from '../../source/journal/journal.ts';
import { readLedger, writeLedger } from '../../source/journal/ledger.ts';
import { keyId, signNote, textOfNote } from '../../source/journal/seal-note.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { failingFiles } from './failing-files.ts';
import { MemoryDisk } from './memory-disk.ts';
import { DIR, PATH, sample } from './sample.ts';
import { fakeSystem, systemOn } from './world.ts';

describe('a signed note', () => {
  // The example of the Go package golang.org/x/mod/sumdb/note, on which C2SP signed-note is modelled (from memory; that
  // the signature fits shows that it was remembered rightly).
  const verifier = 'PeterNeumann+c74f20a3+ARpc2QcUPDhMQegwxbzhKqiBfsVkmqq/LDE4izWy10TW';
  const [name = '', id = '', encoded = ''] = verifier.split('+', 3);
  const publicBytes = Buffer.from(verifier.slice(name.length + id.length + 2), 'base64').subarray(1);
  const text =
    "If you think cryptography is the answer to your problem,\nthen you don't know what your problem is.\n";
  const signature =
    '— PeterNeumann x08go/ZJkuBS9UG/SffcvIAQxVBtiFupLLr8pAcElZInNIuGUgYN1FFYC2pZSNXgKvqfqdngotpRZb6KE6RyyBwJnAM=\n';

  test('the published example has this key id and verifies', () => {
    expect(encoded).not.toBe('');
    expect(keyId(name, publicBytes).toString('hex')).toBe(id);
    expect(textOfNote(`${text}\n${signature}`, name, publicBytes)).toBe(text);
  });

  test('with a letter changed, another name, or no signature it does not', () => {
    expect(textOfNote(`${text.replace('answer', 'Answer')}\n${signature}`, name, publicBytes)).toBeNull();
    expect(textOfNote(`${text}\n${signature}`, 'PeterPan', publicBytes)).toBeNull();
    expect(textOfNote(`${text}\n`, name, publicBytes)).toBeNull();
    expect(textOfNote(text, name, publicBytes)).toBeNull();
  });

  test('signatures of others are passed over: the customer may sign too', () => {
    const { privateKey } = generateKeyPairSync('ed25519');
    const der = createPublicKey(privateKey).export({ type: 'spki', format: 'der' });
    const key = {
      publicBytes: der.subarray(12),
      privateText: '',
      sign: (t: string) => sign(null, Buffer.from(t), privateKey),
    };
    const note = signNote(text, 'club', key);
    expect(textOfNote(`${note}${signature}`, 'club', key.publicBytes)).toBe(text);
    expect(textOfNote(`${note}${signature}`, name, publicBytes)).toBe(text);
  });
});

describe('a sealed journal', () => {
  test('has a note of its head, signed with the key of its first record, and the key is gone', () => {
    const { disk, lines, head } = sample(6, true);
    const note = disk.bytes(`${DIR}/seal.txt`).toString();
    const [origin, count, digest, empty, signature] = note.split('\n');
    expect(origin).toBe('loopward/journal@1/hsc-7');
    expect(`${count}:${Buffer.from(digest!, 'base64').toString('hex')}`).toBe(head);
    expect(empty).toBe('');
    const { publicKey } = JSON.parse(lines[0]!.toString()).data as { publicKey: string };
    // Checked here by Node's own Ed25519 (RFC 8032), without the note's code.
    const prefix = Buffer.from('302a300506032b6570032100', 'hex');
    const key = createPublicKey({
      key: Buffer.concat([prefix, Buffer.from(publicKey, 'base64')]),
      format: 'der',
      type: 'spki',
    });
    const signed = Buffer.from(note.slice(0, note.indexOf('\n\n') + 1));
    expect(verify(null, signed, key, Buffer.from(signature!.split(' ')[2]!, 'base64').subarray(4))).toBe(
      true,
    );
    expect(disk.list(DIR).sort()).toEqual(['journal.jsonl', 'locks', 'seal.txt']);
    expect(disk.names.get(PATH)?.mode).toBe(0o400);
  });

  test('takes no more records but in a continuation, whose notes the head does not cover', () => {
    const { disk, head } = sample(6, true);
    const system = fakeSystem(disk);
    const journal = Journal.open(DIR, system);
    expect(journal.isSealed).toBe(true);
    expect(() => journal.append('note', {})).toThrow('sealed. Add notes in a continuation');
    expect(() => journal.seal({})).toThrow('sealed');
    const notes = journal.continueIn();
    notes.append('note', { text: 'battery exchanged' });
    expect(() => notes.seal({})).toThrow('sealed');
    notes.close();
    const verdict = verifyJournal(DIR, { files: disk, head });
    expect(verdict).toMatchObject({ outcome: 'intact', records: 8, seal: head });
    expect(verdict.says).toContain('2 records of notes follow');
    const again = Journal.open(DIR, system);
    expect(again.append('note', { text: 'still holds' }).n).toBe(8);
  });

  test('a program that died anywhere after the seal record: opening makes note, mode and key good', () => {
    const whole = new MemoryDisk();
    const trial = failingFiles(whole, null);
    const journal = Journal.create(DIR, { job: 'hsc-7' }, systemOn(trial));
    const before = trial.calls.length;
    journal.seal({});
    const after = trial.calls.length;
    journal.close();
    let withWarning = 0;
    for (let at = before + 1; at <= after; at += 1) {
      const disk = new MemoryDisk();
      const dying = Journal.create(
        DIR,
        { job: 'hsc-7' },
        systemOn(failingFiles(disk, { at, code: 'EIO', forEver: true, partial: 0 })),
      );
      try {
        if (dying.seal({}).warning !== null) withWarning += 1;
      } catch {
        continue;
      }
      const later = disk.afterKill();
      Journal.open(DIR, { ...systemOn(later), processStart: () => null }).close();
      expect(later.list(DIR).sort()).toEqual(['journal.jsonl', 'locks', 'seal.txt']);
      expect(verifyJournal(DIR, { files: later }).outcome).toBe('self-consistent');
    }
    expect(withWarning).toBeGreaterThan(3);
  });

  test('a note signed by another key does not fit', () => {
    const { disk } = sample(6, true);
    const other = sample(6, true).disk.bytes(`${DIR}/seal.txt`).toString();
    const own = disk.bytes(`${DIR}/seal.txt`).toString();
    const forged = own.slice(0, own.indexOf('\n\n') + 2) + other.slice(other.indexOf('\n\n') + 2);
    disk.put(`${DIR}/seal.txt`, Buffer.from(forged));
    expect(verifyJournal(DIR, { files: disk })).toMatchObject({
      outcome: 'broken',
      firstBad: null,
      verdicts: { record: { is: 'whole' }, seal: { is: 'not-signed' } },
    });
  });
});

describe('the head', () => {
  const digest = '0123456789abcdef'.repeat(4);

  test('is read out in full, in groups of four', () => {
    expect(headToReadOut({ count: 240, digest })).toEqual([
      '240 records',
      '0123 4567 89ab cdef 0123 4567 89ab cdef',
      '0123 4567 89ab cdef 0123 4567 89ab cdef',
    ]);
  });

  test('is understood as it was printed, with spaces, in capitals, without a count', () => {
    const spaced = headToReadOut({ count: 240, digest }).slice(1).join(' ').toUpperCase();
    expect(parseHead(`240:${spaced}`)).toEqual({ count: 240, digest });
    expect(parseHead(digest)).toEqual({ count: null, digest });
  });

  test.each(['', '240', '240:', digest.slice(1), `${digest}0`, `x:${digest}`, `240:${digest.slice(0, 40)}`])(
    '%j is none, and no shorter form is taken',
    (text) => {
      expect(parseHead(text)).toBeNull();
      const { disk } = sample(3, true);
      expect(() => verifyJournal(DIR, { files: disk, head: text })).toThrow('64 hex digits');
    },
  );
});

describe('the ledger of the installation', () => {
  test('knows every job opened and sealed; one that vanished leaves its line', () => {
    const disk = new MemoryDisk();
    const system = fakeSystem(disk);
    for (const job of ['hsc-7', 'hsc-8']) {
      const journal = Journal.create(`/jobs/${job}`, { job }, system);
      expect(writeLedger('/jobs/ledger', 'opened', job, journal.head, system)).toBeNull();
      const { head } = journal.seal({});
      expect(writeLedger('/jobs/ledger', 'sealed', job, head, system)).toBeNull();
    }
    const entries = [...readLedger('/jobs/ledger', disk)];
    expect(entries.map(({ kind, job }) => `${kind} ${job}`)).toEqual([
      'opened hsc-7',
      'sealed hsc-7',
      'opened hsc-8',
      'sealed hsc-8',
    ]);
    expect(verifyJournal('/jobs/hsc-8', { files: disk, head: entries[3]!.head }).outcome).toBe('intact');
    expect(formatHead(Journal.open('/jobs/hsc-8', system).head)).toBe(entries[3]!.head);
  });

  test('that cannot be kept is told, and stops no work', () => {
    const disk = new MemoryDisk();
    disk.put('/jobs/ledger/journal.jsonl', Buffer.alloc(70_000, 'x'));
    disk.mkdir('/jobs/ledger');
    expect(
      writeLedger('/jobs/ledger', 'opened', 'hsc-7', { count: 1, digest: 'aa' }, fakeSystem(disk)),
    ).toContain('The ledger of jobs was not kept');
  });
});
