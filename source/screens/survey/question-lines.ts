import type { Room } from '../draw/frame.ts';
import { EMPTY, type Line, widthOf } from '../draw/line.ts';
import { wrapMarked, wrapped } from '../draw/wrap.ts';
import type { ScreenSettings } from '../settings.ts';
import { type Question, unitHint } from './question.ts';

/** What was answered before, what is typed now, and why the last Enter was not taken. */
type Asked = { readonly held: string | null; readonly typed: string; readonly says: string | null };

/** A question as rows: what it is about, what it asks, its options or the line that is typed. */
export function questionLines(
  question: Question,
  { held, typed, says }: Asked,
  room: Room,
  units: ScreenSettings['units'],
): { readonly lines: readonly Line[]; readonly cursor: { row: number; column: number } | null } {
  const asks: readonly Line[] = [
    ...wrapped(question.about, room.columns, { tone: 'quiet' }),
    ...wrapMarked({ text: `${room.glyphs.pointer} `, tone: 'focus' }, question.asks, room.columns, {
      bold: true,
    }),
  ];
  const above = [
    ...asks,
    ...(question.kind === 'choice' ? optionLines(question, held, room) : hints(question, held, room, units)),
  ];
  const line: Line = [
    { text: '  = ', tone: 'focus' },
    { text: typed, bold: true },
  ];
  const isTyped = question.kind !== 'choice' || typed !== '';
  const refused =
    says === null ? [] : wrapped(`${room.glyphs.caution} ${says}`, room.columns, { bold: true });
  return {
    lines: [...above, ...(isTyped ? [line] : []), ...refused],
    cursor: isTyped ? { row: above.length, column: 4 + widthOf(typed) } : null,
  };
}

function hints(
  question: Question,
  held: string | null,
  room: Room,
  units: ScreenSettings['units'],
): readonly Line[] {
  const unit = unitHint(question, units);
  const usual = held === null || held === '' ? null : `Enter: ${held}`;
  return [usual, unit]
    .filter((says) => says !== null)
    .flatMap((says) => wrapMarked({ text: '    ' }, says, room.columns, { tone: 'quiet' }));
}

function optionLines(question: Question, held: string | null, room: Room): readonly Line[] {
  const rows = question.options.flatMap((option, index) =>
    wrapMarked(
      { text: `${String(index + 1).padStart(4)} `, tone: 'focus', bold: true },
      option.id === held ? `${option.label}  (Enter)` : option.label,
      room.columns,
      option.id === held ? { bold: true } : {},
    ),
  );
  return rows.length === 0 ? [EMPTY] : rows;
}
