import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { run } from '../commands/run.ts';
import { carryOutJob, HOSTILE } from './jobs.ts';
import { seenText } from './page-reader.ts';

/** Control characters, and those that turn the direction of what follows. */
const HARMFUL = /[\u0000-\u0008\u000b-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/;

describe('names that somebody who means harm could have typed', () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-hostile-'));
  let dir = '';
  let documents = new Map<string, string>();

  beforeAll(async () => {
    dir = await carryOutJob('hostile', folder);
    documents = composeHandover(readHandoverSource(dir), 'a4-65');
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  test('stand on the pages as words: no tag, no attribute, no comment comes of them', () => {
    for (const [name, text] of documents) {
      if (!name.endsWith('.html')) continue;
      expect(text, name).not.toMatch(/<(script|img|b onclick)|<!--(?! -->)/);
      // Every tag is one that the documents use themselves, with no handler on it.
      for (const [, tag, attributes] of text.matchAll(/<([a-z0-9]+)((?:\s[^<>]*)?)>/gi)) {
        expect(TAGS, `${name}: ${tag}`).toContain(tag);
        expect(attributes!.replace(/"[^"]*"/g, ''), `${name}: ${tag}`).not.toMatch(/\son/i);
      }
    }
    const page = seenText(documents.get('handover.html')!);
    expect(page).toContain('<script>alert(2)</script>');
    expect(page).toContain('W'.repeat(80));
  });

  test('turn no direction and ring no bell, on a page, in a text or in a terminal', async () => {
    for (const [name, text] of documents) {
      // In data every character is kept, by escapes or in quotes; what is shown to people is what must be safe.
      if (/\.(json|csv)$/.test(name)) continue;
      expect(text.match(HARMFUL), name).toBeNull();
    }
    for (const command of [
      ['history', dir],
      ['history', dir, '--question'],
      ['next', dir],
      ['plan', join(folder, 'hostile.yaml')],
    ]) {
      const { out, err } = await run(command);
      expect(`${out}\n${err}`.match(HARMFUL), command[0]).toBeNull();
    }
  });

  test('run as no formula in any cell of CSV', () => {
    for (const name of ['record.csv', 'labels.csv']) {
      const cells = cellsOf(documents.get(name)!);
      expect(cells.length).toBeGreaterThan(100);
      // OWASP, "CSV Injection": the first character of a cell decides; a plain figure may begin with a sign.
      for (const cell of cells) {
        if (!/^[-+]?\d+(\.\d+)?$/.test(cell)) expect(cell, name).not.toMatch(/^[=+\-@\t\r]/);
      }
    }
    expect(documents.get('labels.csv')).toContain(`'=HYPERLINK`);
  });

  test('leave the data whole: JSON gives every name back as it was typed', () => {
    const { inputs } = JSON.parse(documents.get('handover.json')!) as { inputs: { reports: string }[] };
    const reports = inputs.map((input) => input.reports).join(' + ');
    for (const [plain, hostile] of HOSTILE.filter(([name]) => name.includes('-') || name.includes('hall'))) {
      expect(reports, plain).toContain(hostile);
    }
  });
});

const TAGS =
  'html head meta title style body header h1 h2 h3 p nav ul li a main section dl div dt dd table caption colgroup col thead tr th tbody td span figure figcaption svg rect line text circle path g code b'.split(
    ' ',
  );

/** Cells of RFC 4180 text. */
function cellsOf(csv: string): string[] {
  return [...csv.matchAll(/"((?:[^"]|"")*)"|([^",\r\n]+)/g)].map(
    ([, quoted, bare]) => quoted?.replaceAll('""', '"') ?? bare ?? '',
  );
}
