import { formatQuantity } from '../electrical/quantity-words.ts';
import type { ShownAtRest } from '../job/shown-at-rest.ts';
import type { InputRow } from '../plan/input-sheet.ts';
import { toCsv } from './csv.ts';

/** A row of the input sheet, with what the input showed. */
export type ShownRow = InputRow & { readonly shown: ShownAtRest | null };

/** An input's settings in words, as few as fit a screen: shared by the printed sheet and the card that names the inputs. */
export function settingsOf(row: InputRow): string {
  if (row.name === '') return 'nothing hangs on it: switch it off';
  return [
    CONTACTS[row.contact ?? 'unknown'],
    resistorWords(row),
    ...pulseWords(row),
    ...(row.always ? ['24-hour'] : []),
  ].join(', ');
}

const CONTACTS = {
  'normally-closed': 'normally closed',
  'normally-open': 'normally open',
  unknown: 'contact sense not known: find out before it is set',
} as const;

function resistorWords({ resistorOhms, alarmResistorOhms }: InputRow): string {
  if (resistorOhms === null) return 'no resistor';
  const first = formatQuantity(resistorOhms, 'ohms');
  return alarmResistorOhms === null
    ? `resistor ${first}`
    : `resistors ${first} and ${formatQuantity(alarmResistorOhms, 'ohms')} for alarm`;
}

function pulseWords({ pulse, responseSeconds }: InputRow): string[] {
  const response = formatQuantity(responseSeconds, 'seconds');
  if (pulse === 'needs-analyser') return ['pulses: needs an analyser before it'];
  if (pulse === 'unknown') return [`pulse not known, reports from ${response}`];
  if (pulse === 'none' || pulse === null) return [`reports from ${response}`];
  return [`pulse ${formatQuantity(pulse, 'seconds')}, reports from ${response}`];
}

/** The sheet as text: an input a paragraph, to be read off while typing. */
export function inputSheetToText(rows: readonly ShownRow[]): string {
  return rows
    .map((row) => {
      const where = `${row.board} input ${row.input}  (${row.terminal} and ${row.common})`;
      if (row.name === '') return `${where}\n    ${settingsOf(row)}\n`;
      const detectors = row.detectors.map(
        ({ id, name, kind, place }) =>
          `${name} (${[id, kind, ...(place === null ? [] : [place])].join(', ')})`,
      );
      const lines = [
        `name      ${row.name}`,
        ...detectors.map((one, at) => `${at === 0 ? 'detector' : '     and'}  ${one}`),
        `set       ${settingsOf(row)}`,
        `at rest   ${row.rest}${row.shown === null ? ', not seen yet' : `; it showed ${row.shown.state} (record ${row.shown.record})`}`,
      ];
      return `${where}\n${lines.map((line) => `    ${line}\n`).join('')}`;
    })
    .join('\n');
}

/** The sheet as CSV, a row an input: for what configures the board, if it takes one, or for a spreadsheet. */
export function inputSheetToCsv(rows: readonly ShownRow[]): string {
  const header = [
    'board',
    'input',
    'terminal',
    'common',
    'name',
    'detectors',
    'places',
    'contact',
    'rest',
    'resistor_ohms',
    'alarm_resistor_ohms',
    'pulse_seconds',
    'response_seconds',
    'always',
    'shown_at_rest',
  ];
  return toCsv(
    header,
    rows.map((row) => [
      row.board,
      row.input,
      row.terminal,
      row.common,
      row.name,
      row.detectors.map(({ id }) => id).join(' '),
      [...new Set(row.detectors.flatMap(({ place }) => place ?? []))].join(' '),
      row.contact,
      row.rest,
      row.resistorOhms,
      row.alarmResistorOhms,
      row.pulse,
      row.responseSeconds,
      row.name === '' ? null : row.always ? 'yes' : 'no',
      row.shown?.state ?? null,
    ]),
  );
}
