import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { parseQuantity } from '../../source/electrical/quantity.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import type { RecordedValue } from '../../source/job/records.ts';
import { readRecords } from '../../source/journal/read.ts';
import type { JournalRecord } from '../../source/journal/record.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { shippedBoard } from '../random-survey.ts';
import { carryOutJob, JOBS, type JobName } from './jobs.ts';
import { figuresIn, type ReadRow, type ReadTable, readTables, seenText } from './page-reader.ts';

type Read = { readonly n: number; readonly field: string; readonly value: RecordedValue };

const KINDS = { ohm: 'ohms', V: 'volts', A: 'amps' } as const;

describe.each(JOBS)('every figure on the page of the %s job', (job: JobName) => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-figures-'));
  let html = '';
  let tables: ReadTable[] = [];
  let records: JournalRecord[] = [];
  let dir = '';

  beforeAll(async () => {
    dir = await carryOutJob(job, folder);
    html = composeHandover(readHandoverSource(dir), 'a4-65').get('handover.html')!;
    tables = readTables(html);
    records = [...readRecords(dir)];
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  const readsOf = (n: number): Read[] =>
    Object.entries((records[n]?.data.values ?? {}) as unknown as Record<string, RecordedValue>)
      .filter(([, value]) => value.kind === 'reading')
      .map(([field, value]) => ({ n, field, value }));

  /** The reading of the record that a row shows, by what was typed and by the window it was judged by. */
  const readOfRow = (row: ReadRow, found: string, expected: string, seen: ReadonlySet<string>) =>
    row.records
      .flatMap(readsOf)
      .find(
        ({ n, field, value }) =>
          !seen.has(`${n} ${field}`) &&
          row.cells[found]!.startsWith(value.typed) &&
          saysWindow(row.cells[expected]!, value),
      );

  test('that was measured is the record’s, with its window and its verdict, and stands on its scale where it belongs', () => {
    const seen = new Set<string>();
    for (const table of tables) {
      const found = ['found', 'measured'].find((name) => table.columns.includes(name));
      const expected = ['expected', 'computed', 'computed for the day'].find((name) =>
        table.columns.includes(name),
      );
      if (found === undefined || expected === undefined) continue;
      for (const row of table.rows.filter((one) => one.records.length > 0)) {
        const read = readOfRow(row, found, expected, seen);
        expect(read, `${table.caption}: ${JSON.stringify(row.cells)}`).toBeDefined();
        const { n, field, value } = read!;
        seen.add(`${n} ${field}`);
        expect(row.cells[found]!.includes('FAILED')).toBe(value.verdict === 'failed');
        expect(row.cells[found]!.includes('not as expected')).toBe(value.verdict === 'unexpected');
        if (row.drawings[expected] !== '') expect(drawnAt(row.drawings[expected]!, value)).toBe(true);
      }
    }
    // What is not of a loop or a supply stands in the tables of isolation and survey, and in the log.
    const ohms = records.flatMap(({ n }) => readsOf(n)).filter(({ value }) => value.unit === 'ohm');
    expect(ohms.length).toBeGreaterThan(40);
    for (const { n, field } of ohms) expect(seen, `${n} ${field}`).toContain(`${n} ${field}`);
  });

  test('in a row that names its records comes from those records and their steps', () => {
    const { collected } = readHandoverSource(dir);
    const steps = new Map(collected.entries.map((entry) => [entry.n, entry.step]));
    const names = readFileSync(join(dir, 'private.json'), 'utf8');
    let looked = 0;
    for (const table of tables) {
      for (const row of table.rows.filter((one) => one.records.length > 0)) {
        const own = row.records.map((n) => records[n]!);
        const allowed = new Set([
          ...figuresIn(JSON.stringify([row.records, own.map(({ data }) => data), names])),
          ...figuresIn(own.map(({ n }) => JSON.stringify(steps.get(n) ?? '')).join(' ')),
          ...own.flatMap(({ at }) => figuresIn(wallClock(at, collected.timeZone))),
        ]);
        const windows = own.flatMap(({ data }) => [
          ...windowFigures(Object.values(data.values ?? {})),
          // What the leads read by themselves is recorded in thousandths, as windows are.
          ...(typeof data.zeroMilliohms === 'number' ? [data.zeroMilliohms / 1000] : []),
        ]);
        for (const [column, text] of Object.entries(row.cells)) {
          if (COMPUTED.has(column) || column === 'tries') continue;
          for (const figure of figuresIn(text.replace(/#\d+/g, ''))) {
            looked += 1;
            if (allowed.has(figure) || windows.some((one) => isNear(Number(figure), one))) continue;
            expect.fail(
              `${table.caption}, ${column}: ${figure} in "${text}" is not in #${row.records.join(' #')}`,
            );
          }
        }
      }
    }
    expect(looked).toBeGreaterThan(1000);
  });

  test('every value of every step stands in its row of the log', () => {
    const log = tables.at(-1)!;
    const rows = new Map(log.rows.map((row) => [row.records[0], row]));
    for (const { n, data } of records) {
      for (const value of Object.values((data.values ?? {}) as unknown as Record<string, RecordedValue>)) {
        if (value.kind === 'choice' || value.person) continue;
        expect(rows.get(n)?.cells.values, `#${n}`).toContain(value.typed.replace(/\s+/g, ' ').trim());
      }
    }
  });
});

test('what was computed is what the plan computes from the survey, to the digits shown', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'handover-plan-'));
  try {
    const dir = await carryOutJob('demo', folder);
    const html = composeHandover(readHandoverSource(dir), 'a4-65').get('handover.html')!;
    const file = new URL('../../fixtures/sailing-club/survey.yaml', import.meta.url);
    const read = parseSurvey(readFileSync(file, 'utf8'), 'survey.yaml');
    if (!read.ok) throw new Error('The survey of the demo is not valid.');
    const boards = read.survey.boards.map(({ id, file: name }) => shippedBoard(name, id));
    const plan = planChangeover(read.survey, boards);
    const tables = readTables(html);
    for (const supply of plan.supply) {
      const rows = tables.find(
        ({ caption }) => caption === `${supply.board}: voltage at each powered detector`,
      )!.rows;
      expect(rows).toHaveLength(supply.devices.length);
      for (const [place, device] of supply.devices.entries()) {
        const volts = (column: string) => quantity(rows[place]!.cells[column]!, 'volts');
        expect(volts('minimum')).toBeCloseTo(device.minimumVolts, 1);
        expect(volts('battery end')).toBeCloseTo(device.batteryEndVolts, 1);
        expect(volts('mains')).toBeCloseTo(device.mainsVolts, 1);
        expect(volts('highest')).toBeCloseTo(device.highestVolts, 1);
        expect(volts('worst')).toBeLessThanOrEqual(device.worstVolts);
        expect(volts('worst')).toBeCloseTo(device.worstVolts, 1);
      }
      const board = tables.find(
        ({ caption }) => caption === `${supply.board}: adapter, aux, battery and load`,
      )!.rows;
      const computed = (what: string) => board.find(({ cells }) => cells.what === what)!.cells.computed!;
      const [standby, ofSupply] = computed('Current, standby').split(' of ');
      const [aux, ofAux] = computed('Aux in alarm').split(' of ');
      expect(quantity(standby!, 'amps')).toBeCloseTo(supply.standbyAmps, 3);
      expect(quantity(ofSupply!, 'amps')).toBeCloseTo(supply.limitAmps, 3);
      expect(quantity(aux!, 'amps')).toBeCloseTo(supply.auxAmps, 3);
      expect(quantity(ofAux!, 'amps')).toBe(boards.find(({ id }) => id === supply.board)!.aux.amps);
      expect(quantity(computed('Hold-up'), 'seconds') / 3600).toBeCloseTo(supply.battery!.holdUpHours, 1);
    }
    const inputs = tables.find(({ caption }) => caption === 'Inputs of the new boards')!.rows;
    expect(inputs.map(({ cells }) => cells.input)).toEqual(plan.circuits.map((c) => `${c.board} ${c.input}`));
    expect(seenText(html)).toContain('Galley smoke detector was not moved');
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
});

/** Columns whose figures are the plan's, held against it elsewhere. */
const COMPUTED = new Set([
  'minimum',
  'battery end',
  'worst',
  'mains',
  'highest',
  'input',
  'terminals',
  'resistor',
]);

function quantity(text: string, kind: 'volts' | 'amps' | 'seconds'): number {
  const read = parseQuantity(text, kind);
  if (!read.ok) throw new Error(`${text}: ${read.says}`);
  return read.value;
}

/** Whether words of a window are those of a value, whose bounds are in thousandths, to three digits and outwards. */
function saysWindow(words: string, { window, unit }: RecordedValue): boolean {
  const bounds = [window?.min, window?.max].filter((bound) => typeof bound === 'number');
  if (words === '' || unit === null) return bounds.length === 0 && (window?.usableMin ?? null) === null;
  if (words.startsWith('open')) return bounds.length === 0;
  const said = words.replace(/^at (least|most) /, '').split(' to ');
  const shared = said.at(-1)!.split(' ')[1];
  return (
    said.length === bounds.length &&
    said.every((text, place) => {
      const read = parseQuantity(
        (text.includes(' ') ? text : `${text} ${shared}`).replace('−', '-'),
        KINDS[unit],
      );
      const bound = bounds[place]! / 1000;
      if (!read.ok || !isNear(read.value, bound)) return false;
      // What is printed is never narrower than what was judged.
      return bounds[place] === window?.min ? read.value <= bound + 1e-9 : read.value >= bound - 1e-9;
    })
  );
}

/** Where the mark of a drawn scale stands, turned back into a value: the value itself, or beyond the end. */
function drawnAt(svg: string, { window, milli, open }: RecordedValue): boolean {
  const [, left, width] = svg.match(/<rect x="([\d.]+)"[^>]*? width="([\d.]+)"/)!.map(Number);
  const mark = svg.match(/<line x1="([\d.]+)" y1="1"/)?.[1];
  const low = window?.min ?? 0;
  const high = window?.max ?? null;
  if (mark === undefined) {
    const points = /d="M[\d.]+ 9l8/.test(svg) ? 'left' : 'right';
    return points === 'left' ? milli! < low : open || (high !== null && milli! > high);
  }
  if (high === null) return milli! >= low ? Number(mark) >= left! - 1 : Number(mark) < left! + 1;
  const value = low + ((Number(mark) - left!) / width!) * Math.max(high - low, 1);
  return Math.abs(value - milli!) <= (high - low) * 0.01 + 1;
}

function windowFigures(values: readonly unknown[]): number[] {
  return values.flatMap((value) => {
    const bounds = Object.values((value as RecordedValue).window ?? {}).filter((bound) => bound !== null);
    return bounds.flatMap((bound) => [bound / 1000, bound / 1e6, bound / 1e9].map(Math.abs));
  });
}

/** A figure rounded for reading, a bound outwards: to three digits, below one to hundredths, a tenth of what a meter shows. */
function isNear(figure: number, exact: number): boolean {
  const size = Math.abs(exact);
  return Math.abs(exact - figure) <= (size >= 0.01 && size < 1 ? 0.01 : size * 0.0101);
}

/** A time on the wall of a zone, by another way than the documents take. */
function wallClock(at: string, timeZone: string): string {
  return `${new Date(at).toLocaleString('sv-SE', { timeZone })} 00:00`;
}
