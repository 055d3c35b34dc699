import { metres } from '../plan/findings/words.ts';
import { arrivingWords } from '../plan/text/supply-words.ts';
import { type Block, cellWords, type HandoverDocument, MISSING } from './document.ts';
import type { DrawnStrip } from './drawing/strip.ts';
import { sayItem } from './drawing/strip-layout.ts';
import { plain } from './plain.ts';

/** The handover as plain text: stable byte for byte for the same record. */
export function documentToText(document: HandoverDocument): string {
  const head = [document.title, document.subtitle, ...(document.banner === null ? [] : [document.banner])];
  const sections = document.sections.map((section) =>
    [
      section.title.toUpperCase(),
      '-'.repeat(section.title.length),
      ...section.blocks.map(blockToText),
      '',
    ].join('\n'),
  );
  return `${[...head.map(plain), '', ...sections].join('\n').trimEnd()}\n`;
}

function blockToText(block: Block): string {
  switch (block.kind) {
    case 'words':
      return `${plain(block.text)}\n`;
    case 'facts': {
      const width = Math.max(...block.facts.map((fact) => fact.name.length));
      return [
        ...(block.caption === undefined ? [] : [`${block.caption}\n`]),
        ...block.facts.map(({ name, value }) => `${name.padEnd(width)}  ${plain(value ?? MISSING)}\n`),
        '\n',
      ].join('');
    }
    case 'table':
      return tableToText(
        block.caption,
        block.columns,
        block.rows.map((row) => row.map((cell) => plain(cellWords(cell)))),
      );
    case 'strips':
      return [
        'AS FOUND\n',
        ...block.found.map(stripToText),
        'AS LEFT\n',
        ...block.left.map(stripToText),
      ].join('\n');
    case 'runs':
      return runsToText(block);
    case 'code':
      return block.lines.map((line) => `    ${line}\n`).join('');
  }
}

function tableToText(
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
): string {
  const widths = columns.map((name, i) =>
    Math.max(name.length, ...rows.map((row) => [...(row[i] ?? '')].length)),
  );
  const line = (cells: readonly string[]) =>
    cells
      .map((text, i) => text + ' '.repeat(Math.max(0, (widths[i] ?? 0) - [...text].length)))
      .join('  ')
      .trimEnd();
  const ruled = widths.map((width) => '-'.repeat(width));
  return [caption, line(columns), line(ruled), ...rows.map(line), ''].map((text) => `${text}\n`).join('');
}

function runsToText({ board, runs }: Extract<Block, { kind: 'runs' }>): string {
  return tableToText(
    `Voltage along the supply runs of ${board}`,
    ['run', 'detector', 'distance', 'minimum', 'battery end', 'mains'],
    runs.flatMap((run) =>
      run.points.map((p) => {
        const { needs, batteryEnd, mains } = arrivingWords(p);
        return [run.cable, plain(p.name), metres(p.metres), needs, batteryEnd, mains];
      }),
    ),
  );
}

function stripToText(strip: DrawnStrip): string {
  const lines = strip.positions.flatMap(({ id, role, holds }) => {
    const name = [id, role === '' ? '' : id === '' ? role : `(${role})`].filter(Boolean).join(' ');
    if (holds.length === 0) return [`  ${name}: nothing`];
    return [`  ${name}:`, ...holds.map((item) => `      ${sayItem(item)}`)];
  });
  return `${[plain(strip.title), ...lines.map(plain)].join('\n')}\n`;
}
