import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { keysOfScreen } from '../../source/screens/app/screens.ts';
import type { Screen } from '../../source/screens/app/state.ts';
import { type KeyRow, showKey } from '../../source/screens/keys/table.ts';
import { type Picture, takePictures } from './pictures.ts';

// `npm run pictures` writes what this test compares: README and pictures are made from the screens.
const WRITE = process.env.LOOPWARD_PICTURES !== undefined;
const ROOT = resolve(import.meta.dirname, '../..');
const README = join(ROOT, 'README.md');
const PICTURES = join(ROOT, 'fixtures/pictures');

const SCREENS: readonly (readonly [Screen['kind'], string])[] = [
  ['step', 'a step'],
  ['form', 'what an action asks'],
  ['menu', 'a menu'],
  ['briefing', 'coming to a job'],
  ['plan', 'the plan'],
  ['steps', 'all steps'],
  ['history', 'the record'],
  ['diagnosis', 'what may be behind it'],
  ['live', 'the new board, live'],
  ['learn', 'learning how it tells its inputs'],
  ['tour', 'the tour of the detectors'],
  ['survey', 'survey entry'],
  ['edit', 'a survey that is changed'],
  ['jobs', 'the jobs'],
  ['closed', 'a closed job'],
];

function keyTable(): string {
  const rows = SCREENS.map(([kind, name]) => `| ${name} | ${cells(kind).join(' · ')} |`);
  return [
    'A numeric keypad is enough for a whole job: digits, point, minus, Enter and the arrows. Letters are shortcuts; in a text they are letters. `?` lists the keys of any screen.',
    '',
    '| on | keys |',
    '| --- | --- |',
    ...rows,
  ].join('\n');
}

/** What several keys do alike is told once, and what one key does in several moments. */
function cells(kind: (typeof SCREENS)[number][0]): string[] {
  return [...new Set(keysOfScreen(kind).map(keyCell))];
}

function keyCell(row: KeyRow<string, never>): string {
  const keys = row.keys.map((key) => `\`${showKey(key)}\``).join(' ');
  return `${keys.replace('`1` `…` `9`', '`1`-`9`').replace('`1` `…` `6`', '`1`-`6`')} ${row.says}`;
}

let pictures: readonly Picture[] = [];
beforeAll(async () => {
  pictures = await takePictures();
}, 120_000);

function screenBlock(): string {
  const reading = pictures.find((picture) => picture.name === 'reading')!;
  const gallery = pictures
    .map(({ name, shows }) => `![${shows}](fixtures/pictures/${name}.svg)\n*${shows}.*`)
    .join('\n\n');
  return [
    '```text',
    reading.text,
    '```',
    '',
    '<details><summary>Ten screens in colour</summary>',
    '',
    gallery,
    '',
    '</details>',
  ].join('\n');
}

function between(text: string, name: string): string {
  return (
    new RegExp(`<!-- ${name}:start -->\\n([\\s\\S]*?)<!-- ${name}:end -->`).exec(text)?.[1]?.trim() ?? ''
  );
}

function replaced(text: string, name: string, block: string): string {
  return text.replace(
    new RegExp(`(<!-- ${name}:start -->\\n)[\\s\\S]*?(<!-- ${name}:end -->)`),
    (_, start, end) => `${start}${block}\n${end}`,
  );
}

describe('the README shows the screens as they are', () => {
  test('ten pictures, each of another screen', () => {
    expect(pictures).toHaveLength(10);
    expect(new Set(pictures.map((picture) => picture.text)).size).toBe(10);
  });

  test('its pictures are the terminal’s own buffer', () => {
    if (WRITE) mkdirSync(PICTURES, { recursive: true });
    for (const { name, svg } of pictures) {
      const file = join(PICTURES, `${name}.svg`);
      if (WRITE) writeFileSync(file, svg);
      expect(readFileSync(file, 'utf8') === svg, `${name}.svg is stale: npm run pictures`).toBe(true);
    }
  });

  test('its screen and its list of keys come from the program', () => {
    if (WRITE) {
      const text = readFileSync(README, 'utf8');
      writeFileSync(README, replaced(replaced(text, 'screen', screenBlock()), 'keys', keyTable()));
    }
    const text = readFileSync(README, 'utf8');
    expect(between(text, 'keys')).toBe(keyTable());
    expect(between(text, 'screen')).toBe(screenBlock());
  });
});
