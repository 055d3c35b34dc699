import { type Block, cellWords, type HandoverDocument, MISSING } from './document.ts';
import type { DrawnStrip } from './drawing/strip.ts';

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
    case 'strip':
      return stripToText(block.strip);
    case 'run':
      return tableToText(
        `Voltage along ${block.run.cable} from ${block.run.board}`,
        ['detector', 'distance', 'minimum', 'battery end', 'mains'],
        block.run.points.map((p) => [
          plain(p.name),
          `${Math.round(p.metres)} m`,
          `${p.minimumVolts.toFixed(1)} V`,
          `${p.batteryEndVolts.toFixed(2)} V`,
          `${p.mainsVolts.toFixed(2)} V`,
        ]),
      );
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

function stripToText(strip: DrawnStrip): string {
  const lines = strip.positions.flatMap((position) => {
    const name = `${position.id}${position.role === '' ? '' : ` (${position.role})`}`;
    if (position.conductors.length === 0) return [`  ${name}: nothing`];
    return position.conductors.map((c, place) => {
      const through = c.through === null ? '' : `, ${c.through}`;
      const words = `${c.id} ${c.colour}${c.serves === '' ? '' : `, ${c.serves}`}${through}`;
      return `  ${(place === 0 ? `${name}:` : '').padEnd(name.length + 1)} ${words}`;
    });
  });
  return [strip.title, ...lines.map(plain), ''].map((text) => `${text}\n`).join('');
}

/** Text without control characters or direction overrides, which could rearrange what a terminal shows. */
export function plain(text: string): string {
  return text.replaceAll(/[\u0000-\u001f\u007f-\u009f\u200e\u200f\u202a-\u202e\u2066-\u2069]/g, ' ');
}
