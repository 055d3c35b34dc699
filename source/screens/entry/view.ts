import type { Room } from '../draw/frame.ts';
import { type Line, padText, type Span, widthOf } from '../draw/line.ts';
import { drawScale, windowWords } from '../draw/scale.ts';
import { wrapped, wrapText } from '../draw/wrap.ts';
import { type Answer, textOf } from './answer.ts';
import type { ChoiceField, CountField, Field, ReadingField, TextField } from './field.ts';
import { LETTER_COLUMNS, LETTERS } from './letters.ts';
import { type Entry, isAskedAt } from './state.ts';
import { figureAt, verdictAt, windowsOf } from './verdict.ts';

type EntryView = {
  readonly lines: readonly Line[];
  readonly cursor: { row: number; column: number } | null;
};

/** The entry as rows: what was answered, the field that has the keys, what is still to come. */
export function viewEntry(entry: Entry, room: Room, rows: number): EntryView {
  const field = entry.fields[entry.at];
  const answer = entry.answers[entry.at];
  if (!field || !answer) return { lines: [], cursor: null };
  const says =
    entry.says === null
      ? keptSays(entry, room)
      : wrapped(`${room.glyphs.caution} ${entry.says}`, room.columns, { tone: 'caution', bold: true });
  const asked = entry.fields.flatMap((_, index) =>
    index === entry.at || isAskedAt(entry, index) ? [index] : [],
  );
  const others = Math.max(0, Math.min(asked.length - 1, rows - 7));
  const { before, after } = neighbours(entry, asked, others);
  const active = viewField(
    entry,
    field,
    answer,
    room,
    Math.max(4, rows - before.length - after.length - says.length),
  );
  const first = before.map((index) => answered(entry, index, room));
  const place = asked.length > 1 ? `${asked.indexOf(entry.at) + 1}/${asked.length} ` : '';
  const label = wrapText(`${place}${field.label}`, room.columns - 2).map(
    (row, index): Line => [
      { text: index === 0 ? `${room.glyphs.pointer} ` : '  ', tone: 'focus' },
      { text: row, bold: true },
    ],
  );
  const above = [...first, ...label];
  return {
    lines: [...above, ...active.lines, ...after.map((index) => answered(entry, index, room)), ...says],
    cursor: active.cursor && { row: above.length + active.cursor.row, column: active.cursor.column },
  };
}

function keptSays(entry: Entry, room: Room): readonly Line[] {
  if (!entry.kept.includes(entry.fields[entry.at]?.id ?? '')) return [];
  return wrapped('  Kept from the try before: Enter confirms it, or answer anew.', room.columns);
}

function neighbours(
  entry: Entry,
  asked: readonly number[],
  room: number,
): { before: number[]; after: number[] } {
  const before = asked.filter((index) => index < entry.at);
  const after = asked.filter((index) => index > entry.at);
  const kept = before.slice(-Math.max(0, room - Math.min(1, after.length)));
  return { before: room === 0 ? [] : kept, after: after.slice(0, Math.max(0, room - kept.length)) };
}

/** An answer with its verdict. */
export function answered(entry: Entry, index: number, room: Room): Line {
  const field = entry.fields[index]!;
  const text = shown(field, entry.answers[index]!);
  const { sign, tone, says } = verdictAt(entry, index);
  // The value comes first: where the row is too narrow the question is cut, never what was answered.
  return [
    { text: `${room.glyphs[sign]} `, tone },
    { text, bold: true },
    ...(says === '' ? [] : [{ text: ` ${says}`, tone }]),
    { text: `${text === '' ? '' : '  '}${field.label}`, tone: 'quiet' },
  ];
}

function shown(field: Field, answer: Answer): string {
  if (field.kind === 'choice')
    return answer.picked === null ? '' : (field.options[answer.picked]?.label ?? '');
  return textOf(field, answer);
}

function viewField(entry: Entry, field: Field, answer: Answer, room: Room, rows: number): EntryView {
  switch (field.kind) {
    case 'reading':
      return viewReading(field, answer, figureAt(entry, entry.at), room);
    case 'choice':
      return viewOptions(field, answer, room, rows);
    case 'text':
      return viewText(field, answer, room, rows);
    case 'count':
      return typedRow(field, answer, ` of ${field.of}`);
  }
}

function viewReading(
  field: ReadingField,
  answer: Answer,
  read: ReturnType<typeof figureAt>,
  room: Room,
): EntryView {
  const windows = windowsOf(field);
  if (windows === null) return typedRow(field, answer, ` ${field.unit}`);
  const words = wrapped(windowWords(windows), room.columns - 2, { tone: 'quiet' }).map(
    (line): Line => [{ text: '  ' }, ...line],
  );
  const drawn = room.linear
    ? read === null
      ? []
      : wrapped(`Judged: ${read.look.says}.`, room.columns)
    : drawScale(windows, read, Math.min(100, room.columns - 4), room.glyphs).map(
        (line): Line => [{ text: '  ' }, ...line],
      );
  const row = typedRow(field, answer, ` ${field.unit}`);
  return {
    lines: [...words, ...drawn, ...row.lines],
    cursor: row.cursor && { row: words.length + drawn.length + row.cursor.row, column: row.cursor.column },
  };
}

function typedRow(field: ReadingField | CountField | TextField, answer: Answer, unit: string): EntryView {
  const typed = answer.typed === '' ? '' : answer.typed;
  return {
    lines: [
      [
        { text: '  = ', tone: 'focus' },
        { text: typed, bold: true },
        { text: field.kind === 'text' ? '' : unit, tone: 'quiet' },
      ],
    ],
    cursor: { row: 0, column: 4 + widthOf(typed) },
  };
}

function viewOptions(field: ChoiceField, answer: Answer, room: Room, rows: number): EntryView {
  const rowsOf = (index: number) => option(index, field.options[index]!.label, answer.picked === index, room);
  const count = field.options.length;
  if (count > FEW && !room.linear) return viewColumns(field, answer, room, rows);
  const wanted = field.options.flatMap((_, index) => rowsOf(index));
  if (wanted.length <= rows || room.linear) return { lines: wanted, cursor: null };
  // More than fit: a few around the one that is picked, and how many there are.
  const fit = Math.max(1, rows - 1);
  const from = Math.max(0, Math.min(count - fit, (answer.picked ?? 0) - Math.floor(fit / 2)));
  const lines = Array.from({ length: Math.min(fit, count) }, (_, index) => rowsOf(from + index)[0]!);
  const says = `    ${from + 1} to ${Math.min(count, from + fit)} of ${count}: type a number, or ${room.glyphs.up} ${room.glyphs.down}`;
  return { lines: [...lines, [{ text: says, tone: 'quiet' }]], cursor: null };
}

/** Up to so many options stand below each other. */
const FEW = 9;

// Many short names stand in columns, in their order from top to bottom; what does not fit moves with the mark.
function viewColumns({ options }: ChoiceField, answer: Answer, room: Room, rows: number): EntryView {
  const wide = 6 + Math.max(...options.map(({ label }) => widthOf(label)));
  const columns = Math.max(1, Math.floor(room.columns / wide));
  const deep = Math.ceil(options.length / columns);
  const at = answer.picked === null ? 0 : answer.picked % deep;
  const fit = deep <= rows ? deep : Math.max(1, rows - 1);
  const from = Math.max(0, Math.min(deep - fit, at - Math.floor(fit / 2)));
  const cell = (index: number): readonly Span[] => {
    const { label } = options[index] ?? { label: '' };
    if (label === '') return [];
    const picked = answer.picked === index;
    const mark = picked ? room.glyphs.pointer : ' ';
    return [
      { text: mark, tone: 'focus', bold: true },
      { text: `${index + 1} `.padStart(3), bold: true },
      { text: padText(label, wide - 4), bold: picked },
    ];
  };
  const lines = Array.from({ length: fit }, (_, row) =>
    Array.from({ length: columns }, (_, column) => cell(column * deep + from + row)).flat(),
  );
  const says = `  ${options.length} in all: type a number, or ${room.glyphs.up} ${room.glyphs.down}`;
  return { lines: fit < deep ? [...lines, [{ text: says, tone: 'quiet' }]] : lines, cursor: null };
}

function option(index: number, label: string, picked: boolean, room: Room): readonly Line[] {
  const number = `${index + 1}`.padStart(2);
  const mark: Span = picked ? { text: ` ${room.glyphs.pointer}`, tone: 'focus', bold: true } : { text: '  ' };
  return wrapText(picked ? `${label} (picked)` : label, room.columns - 6).map(
    (row, at): Line =>
      at === 0
        ? [mark, { text: `${number} `, bold: true }, { text: row, bold: picked }]
        : [{ text: '     ' }, { text: row, bold: picked }],
  );
}

function viewText(field: TextField, answer: Answer, room: Room, rows: number): EntryView {
  if (answer.letters !== null) return viewLetters(answer, answer.letters);
  const picking = field.offers.length > 0 && answer.typed === '' && !field.numeric;
  if (!picking) {
    const usual =
      field.numeric && field.offers.length > 0 ? `, or ${room.glyphs.down} takes ${field.offers[0]}` : '';
    const says = field.numeric
      ? `digits, then Enter${usual}`
      : `type, then Enter; ${room.glyphs.down} picks letters with the arrows`;
    const shown = answer.picked === null ? answer : { ...answer, typed: field.offers[answer.picked] ?? '' };
    const row = typedRow(field, shown, '');
    return { lines: [...row.lines, [{ text: `    ${says}`, tone: 'quiet' }]], cursor: row.cursor };
  }
  const list: ChoiceField = {
    kind: 'choice',
    id: field.id,
    label: field.label,
    options: [...field.offers, 'something else (letter by letter, or just type)'].map((offer) => ({
      id: offer,
      label: offer,
    })),
  };
  return viewOptions(list, answer, room, rows);
}

function viewLetters(answer: Answer, at: number): EntryView {
  const names: Readonly<Record<string, string>> = { space: 'space', back: 'erase', end: 'ready' };
  const cells = LETTERS.map((letter, index): Span[] => {
    const name = names[letter] ?? letter;
    const here = index === at;
    return [here ? { text: `[${name}]`, inverse: true, bold: true, tone: 'focus' } : { text: ` ${name} ` }];
  });
  const lines: Line[] = [];
  for (let from = 0; from < cells.length; from += LETTER_COLUMNS) {
    lines.push([{ text: '    ' }, ...cells.slice(from, from + LETTER_COLUMNS).flat()]);
  }
  const row: Line = [
    { text: '  = ', tone: 'focus' },
    { text: answer.typed, bold: true },
  ];
  const hint: Line = [{ text: '    arrows move, Enter takes the letter, [ready] ends', tone: 'quiet' }];
  return { lines: [row, ...lines, hint], cursor: { row: 0, column: 4 + widthOf(answer.typed) } };
}
