import { chmodSync, copyFileSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { attachFile } from '../../source/job/attachments.ts';
import { formatHead } from '../../source/journal/head.ts';
import { Journal } from '../../source/journal/journal.ts';
import { realSystem } from '../../source/journal/system.ts';
import { run } from '../commands/run.ts';
import { scratchFolder } from './programs.ts';

const folder = scratchFolder();
let made = 0;

/** A job folder on the real disk, with a photo attached. */
function job(sealed: boolean) {
  made += 1;
  const dir = join(folder, `job-${made}`);
  const journal = Journal.create(dir, { job: `hsc-${made}` }, realSystem());
  const photo = join(folder, 'photo.jpg');
  writeFileSync(photo, 'a picture');
  const attached = attachFile(dir, photo);
  if (!attached.ok) throw new Error(attached.says);
  journal.append('photo', { ...attached.attachment, step: 'label.c1' });
  journal.append('note', { text: 'Boat store, white pair' });
  if (sealed) journal.seal({});
  journal.close();
  return { dir, head: formatHead(journal.head), id: `hsc-${made}` };
}

describe('loopward verify', () => {
  test('an open job: exit 0, the keys of the format', async () => {
    const { dir, head } = job(false);
    const { code, json, err } = await run(['verify', dir, '--json']);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(json).toMatchObject({
      format: 'loopward/verify@1',
      outcome: 'open',
      repaired: false,
      records: 3,
      firstBad: null,
      head,
      attachments: 1,
    });
  });

  test('a sealed job with the head from the handover, as printed, is verified in words', async () => {
    const { dir, head } = job(true);
    const { code, out } = await run(['verify', dir, '--head', head]);
    expect(code).toBe(0);
    expect(out).toMatch(/^INTACT: Verified/);
    expect(out).toContain('Head at the seal: 4 records');
    const spoken = out.split('\n').slice(-2).join(' ');
    expect((await run(['verify', dir, '--json', '--head', `4: ${spoken}`])).json).toMatchObject({
      outcome: 'intact',
    });
    expect((await run(['verify', dir])).out).toMatch(/^SELF-CONSISTENT: /);
    expect((await run(['verify', dir])).out).not.toMatch(/verified/i);
  });

  test('by id, and a bare journal.jsonl, under any name', async () => {
    const { dir, id, head } = job(true);
    expect((await run(['verify', id, '--jobs', folder, '--json'])).json).toMatchObject({ head });
    const copy = join(folder, 'evidence');
    copyFileSync(join(dir, 'journal.jsonl'), copy);
    expect((await run(['verify', copy, '--json', '--head', head])).json).toMatchObject({
      outcome: 'intact',
      attachments: 1,
      attachmentsChecked: false,
    });
    expect((await run(['verify', copy])).out).toContain('not here and not checked');
    expect((await run(['verify', join(dir, 'journal.jsonl'), '--json', '--head', head])).json).toMatchObject({
      outcome: 'intact',
    });
  });

  test.each<[string, (text: string) => string, string, number | null]>([
    ['altered', (text) => text.replace('white', 'brown'), 'broken', 2],
    ['cut short', (text) => text.slice(0, text.lastIndexOf('\n', text.length - 2) + 1), 'truncated', 3],
    ['emptied', () => '', 'truncated', 0],
  ])('a job that was %s: exit 4, and where', async (_, change, outcome, firstBad) => {
    const { dir, head } = job(true);
    const path = join(dir, 'journal.jsonl');
    chmodSync(path, 0o600);
    writeFileSync(path, change(readFileSync(path, 'utf8')));
    const { code, json } = await run(['verify', dir, '--json', '--head', head]);
    expect(code).toBe(4);
    expect(json).toMatchObject({ outcome, firstBad });
  });

  test('a file attached that was altered or is gone: exit 4, with the record that speaks of it', async () => {
    const { dir, head } = job(true);
    const [name = ''] = readdirSync(join(dir, 'attachments'));
    writeFileSync(join(dir, 'attachments', name), 'b picture');
    const { code, json, out } = await run(['verify', dir, '--head', head, '--json']);
    expect(code).toBe(4);
    expect(json).toMatchObject({ outcome: 'broken', firstBad: 1 });
    expect(out).toContain('was altered');
  });

  test.each([
    ['no job', ['verify', '/nowhere']],
    ['a head that is none', ['verify', '.', '--head', '240:7f3a']],
  ])('%s: exit 2, one sentence of what to do', async (_, argv) => {
    const { code, out, err } = await run(argv);
    expect(code).toBe(2);
    expect(out).toBe('');
    expect(err).toMatch(/Give /);
  });

  test('it writes nothing', async () => {
    const { dir } = job(false);
    const before = readdirSync(dir, { recursive: true });
    await run(['verify', dir]);
    expect(readdirSync(dir, { recursive: true })).toEqual(before);
  });
});
