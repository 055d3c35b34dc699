import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { toCsv } from '../../source/handover/csv.ts';
import { LABEL_SHEETS, readLabelSheet } from '../../source/handover/label-sheets.ts';
import { labelsToText, wireLabels } from '../../source/handover/labels.ts';
import { QUESTIONS } from '../../source/handover/questions.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { readRecords } from '../../source/journal/read.ts';
import { run } from '../commands/run.ts';
import { seenText } from './page-reader.ts';

const folder = mkdtempSync(join(tmpdir(), 'handover-'));
const dir = join(folder, 'job');

beforeAll(async () => {
  const ran = await run(['rehearse', bundledFile(DEMO_SURVEY), '--seed', '5', '--job', dir]);
  expect(ran).toMatchObject({ code: 0, err: '' });
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const documents = (redacted = false) => composeHandover(readHandoverSource(dir, redacted), 'a4-65');
const named = (name: string, redacted = false) => documents(redacted).get(name) ?? '';

describe('the documents of a closed job', () => {
  test('are the same bytes for the same journal and private file', () => {
    expect([...documents()]).toEqual([...documents()]);
  });

  test('every reading of the record stands on the page and in the text as it was typed', () => {
    const page = seenText(named('handover.html'));
    const text = named('handover.txt').replace(/\s+/g, ' ');
    let readings = 0;
    for (const { kind, data } of readRecords(dir)) {
      if (kind !== 'act' || typeof data.values !== 'object') continue;
      for (const value of Object.values(data.values as Record<string, { kind: string; typed: string }>)) {
        if (value.kind !== 'reading') continue;
        readings += 1;
        expect(page).toContain(value.typed);
        expect(text).toContain(value.typed);
      }
    }
    expect(readings).toBeGreaterThan(40);
  });

  test('every card that was confirmed is a row of the log, found by its number', () => {
    const page = named('handover.html');
    for (const { kind, n, data } of readRecords(dir)) {
      if (kind === 'act' && data.do === 'confirm') expect(page).toContain(`id="record-${n}"`);
    }
  });

  test('the head stands in full, and every link leads to a place on the page', () => {
    const page = named('handover.html');
    const { verdict } = readHandoverSource(dir);
    expect(seenText(page)).toContain(verdict.head);
    const ids = new Set([...page.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    for (const [, to] of page.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(to);
  });

  test('nothing is fetched and nothing runs', () => {
    for (const [name, text] of documents()) {
      if (!name.endsWith('.html')) continue;
      expect(text).toContain('default-src &#x27;none&#x27;');
      expect(text).not.toMatch(/<script|<link|<img|<iframe|https?:\/\//);
    }
  });

  test('a field that the record lacks is shown as missing', () => {
    expect(named('handover.txt')).toMatch(/^Address +not recorded$/m);
  });

  test('the redacted variant tells no name, no place and no free word', () => {
    const known = JSON.parse(readFileSync(join(dir, 'private.json'), 'utf8'));
    const words = [known.site.name, known.site.reference, ...Object.values<string>(known.persons)];
    expect(words.length).toBeGreaterThan(2);
    for (const [name, text] of documents(true))
      for (const word of words) expect(text, name).not.toContain(word);
  });
});

describe('CSV', () => {
  test('a cell that a spreadsheet would run is defused, a figure is not', () => {
    expect(toCsv(['a', 'b'], [['=1+1', '-0.02']])).toBe("a,b\r\n'=1+1,-0.02\r\n");
    expect(toCsv(['a'], [['@x'], ['say "no", now']])).toBe('a\r\n\'@x\r\n"say ""no"", now"\r\n');
  });
});

describe('labels', () => {
  test('one for each conductor that has an end at the panel, and the identifier is whole', () => {
    const { plan } = readHandoverSource(dir);
    const labels = wireLabels(plan);
    const atPanel = plan.wiring.conductors.filter((conductor) => conductor.atPanel).map(({ id }) => id);
    expect(labels.map(({ conductor }) => conductor).sort()).toEqual([...atPanel].sort());
    const text = labelsToText(labels);
    for (const id of atPanel) expect(text).toMatch(new RegExp(`^${id} `, 'm'));
    const page = named('labels.html');
    for (const id of atPanel) expect(page.split(`>${id}</b>`).length - 1).toBe(2);
  });

  test('a sheet is set by its sizes, and one that cannot be is refused', async () => {
    expect(readLabelSheet('210x297 3x8 70x36')).toMatchObject({
      columns: 3,
      rows: 8,
      margin: { left: 0, top: 4.5 },
      gap: { across: 0, down: 0 },
    });
    expect(readLabelSheet('210x297 2x5 90x50 10x13.5 2.5x1')).toMatchObject({
      gap: { across: 2.5, down: 1 },
    });
    for (const wrong of [
      'a5',
      '210x297',
      '210x297 4x8 70x36',
      '210x297 3.5x8 20x20',
      '210x297 3x8 70',
      '210x297 1x1 10x5',
      'toString',
    ])
      expect(readLabelSheet(wrong), wrong).toBeNull();
    const out = join(folder, 'own-sheet');
    const ran = await run(['labels', bundledFile(DEMO_SURVEY), '--sheet', '210x297 3x8 70x36', '--out', out]);
    expect(ran).toMatchObject({ code: 0, err: '' });
    expect(readFileSync(join(out, 'labels.html'), 'utf8')).toContain('width:70mm;height:36mm');
  });

  test('labels of each sheet stay on the sheet', () => {
    for (const sheet of Object.values(LABEL_SHEETS)) {
      const across =
        sheet.margin.left + sheet.columns * (sheet.label.width + sheet.gap.across) - sheet.gap.across;
      const down = sheet.margin.top + sheet.rows * (sheet.label.height + sheet.gap.down) - sheet.gap.down;
      expect(across).toBeLessThanOrEqual(sheet.page.width);
      expect(down).toBeLessThanOrEqual(sheet.page.height);
    }
  });
});

describe('warranty questions', () => {
  const answers = (name: string, zone: string | null = null) =>
    QUESTIONS.find((question) => question.name === name)!.answer(readHandoverSource(dir), zone);

  test('the adapter was read before it met the board', () => {
    const [answer] = answers('adapter');
    expect(answer?.says).toMatch(/^b1: measured before it met the board/);
    const [measured, met] = answer?.records ?? [];
    expect(measured).toBeLessThan(met!);
  });

  test('whenever a wire was touched the supply was dead, and the proof before it is named', () => {
    const touched = answers('power-off');
    expect(touched.length).toBeGreaterThan(10);
    for (const { says } of touched) expect(says).toMatch(/supply dead, last proved at #\d+/);
  });

  test('who took which resistor out, of one zone', () => {
    const [answer, ...more] = answers('resistors', 'z1');
    expect(more).toEqual([]);
    expect(answer?.says).toContain('Boat store');
  });

  test('from the command line, all of them or one; an unknown one is told', async () => {
    const all = await run(['history', dir, '--question', '--json']);
    expect(all).toMatchObject({ code: 0, json: { format: 'loopward/answers@1' } });
    expect((all.json as { questions: unknown[] }).questions).toHaveLength(QUESTIONS.length);
    expect(await run(['history', dir, '--question', 'adapter'])).toMatchObject({ code: 0 });
    expect(await run(['history', dir, '--question', 'weather'])).toMatchObject({ code: 2 });
  });

  test('the history of every job in a folder, each record with its job', async () => {
    const { code, out } = await run(['history', folder, '--all', '--step', 'supply.prove', '--json']);
    expect(code).toBe(0);
    const rows = out.split('\n').map((line) => JSON.parse(line));
    expect(rows.length).toBeGreaterThan(0);
    for (const row of rows) expect(row).toMatchObject({ job: 'job', step: 'supply.prove' });
  });
});

test('the command writes every document for its owner alone, and says where', async () => {
  const out = join(folder, 'papers');
  const ran = await run(['handover', dir, '--out', out]);
  expect(ran.code).toBe(0);
  for (const name of documents().keys()) expect(ran.out).toContain(join(out, name));
  expect(await run(['handover', dir])).toMatchObject({ code: 2, err: expect.stringContaining('--out') });
  const labels = await run(['labels', bundledFile(DEMO_SURVEY), '--sheet', 'nothing']);
  expect(labels).toMatchObject({ code: 2, err: expect.stringContaining('a4-65') });
});
