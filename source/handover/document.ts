import type { RecordedValue } from '../job/records.ts';
import type { DrawnStrip } from './drawing/strip.ts';
import type { SupplyRun } from './drawing/supply-run.ts';

/**
 * The handover as one value: the page and the plain text only arrange it, so that they cannot differ in what
 * they say.
 */
export type HandoverDocument = {
  readonly title: string;
  readonly subtitle: string;
  /** Shown on every page: a rehearsal, or a record that is not sealed. */
  readonly banner: string | null;
  readonly sections: readonly Section[];
};

export type Section = { readonly id: string; readonly title: string; readonly blocks: readonly Block[] };

export type Block =
  | { readonly kind: 'words'; readonly text: string }
  | { readonly kind: 'facts'; readonly caption?: string; readonly facts: readonly Fact[] }
  | {
      readonly kind: 'table';
      readonly caption: string;
      readonly columns: readonly string[];
      readonly rows: readonly (readonly Cell[])[];
      /** Shares of the page's width, in percent. */
      readonly widths: readonly number[];
    }
  /** The wiring before and after, beside each other where there is room. */
  | { readonly kind: 'strips'; readonly found: readonly DrawnStrip[]; readonly left: readonly DrawnStrip[] }
  | { readonly kind: 'runs'; readonly board: string; readonly runs: readonly SupplyRun[] }
  | { readonly kind: 'code'; readonly payload: string; readonly lines: readonly string[] };

/** `null`: asked for by published record practice, and not in the record. Shown as missing. */
export type Fact = { readonly name: string; readonly value: string | null };

export type Cell =
  | string
  /** The numbers of the records behind a row; the page links them to the log. */
  | { readonly records: readonly number[] }
  /** What was expected of a reading in words, and how it fell, for the scale that is drawn beside them. */
  | { readonly reading: RecordedValue; readonly says: string; readonly found: string };

/** What a cell says in plain text. */
export function cellWords(cell: Cell): string {
  if (typeof cell === 'string') return cell;
  if ('records' in cell) return cell.records.map((n) => `#${n}`).join(' ');
  return cell.says;
}

export const MISSING = 'not recorded';
