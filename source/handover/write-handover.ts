import { lstatSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { createElement, type ReactElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import type { AsLeft } from '../job/as-left-record.ts';
import { writeWhole } from '../job/write-whole.ts';
import { abandonedIn, asideOf, removeFolder, takeName } from '../journal/aside.ts';
import { diskError } from '../journal/error.ts';
import { realSystem, type System } from '../journal/system.ts';
import type { Plan } from '../plan/plan.ts';
import { buildDocument } from './build-document.ts';
import { recordToCsv, recordToJson } from './data.ts';
import { documentToText } from './document-text.ts';
import { LABEL_SHEETS, readLabelSheet } from './label-sheets.ts';
import { labelsToCsv, labelsToText, wireLabels } from './labels.ts';
import { HandoverPage } from './page/page.tsx';
import { LabelPage, SheetPage } from './page/small-pages.tsx';
import { type HandoverSource, isClosed } from './sections/source.ts';
import { ZoneCard, zoneCardText } from './zone-card.tsx';

/** Every document of a job by file name: the same bytes for the same journal and `private.json`. */
export function composeHandover(source: HandoverSource, sheet: string): Map<string, string> {
  const document = buildDocument(source);
  return new Map([
    ['handover.html', page(createElement(HandoverPage, { document }))],
    ['handover.txt', documentToText(document)],
    ['record.csv', recordToCsv(source)],
    ['handover.json', `${JSON.stringify(recordToJson(source), null, 2)}\n`],
    [
      'zone-card.html',
      page(createElement(SheetPage, { title: 'Zone card' }, createElement(ZoneCard, { source }))),
    ],
    ['zone-card.txt', zoneCardText(source)],
    ...composeLabels(source.plan, sheet, isClosed(source) ? source.left : null),
  ]);
}

/** The label documents of a plan by file name. */
export function composeLabels(plan: Plan, sheet: string, left: AsLeft | null = null): Map<string, string> {
  const labels = wireLabels(plan, left);
  const size = readLabelSheet(sheet) ?? LABEL_SHEETS['a4-65']!;
  return new Map([
    ['labels.html', page(createElement(LabelPage, { labels, sheet: size }))],
    ['labels.csv', labelsToCsv(labels)],
    ['labels.txt', labelsToText(labels)],
  ]);
}

/**
 * Writes documents into a folder, for its owner alone: each whole or not at all, and a folder that was not there whole
 * or not at all. A link in the place of a document is replaced, not followed.
 *
 * @throws JournalError `disk-full`, `io`, `exists`
 */
export function writeDocuments(
  out: string,
  documents: ReadonlyMap<string, string>,
  system: System = realSystem(),
): string[] {
  const { files } = system;
  const writeInto = (folder: string): void => {
    for (const [name, text] of documents) writeWhole(join(folder, name), text, files);
  };
  try {
    if (isThere(out)) writeInto(out);
    else makeWhole(out, writeInto, system);
  } catch (error) {
    throw diskError(`${out} cannot be written to`, error);
  }
  return [...documents.keys()].map((name) => join(out, name));
}

function makeWhole(out: string, writeInto: (folder: string) => void, system: System): void {
  const { files } = system;
  files.mkdir(dirname(out));
  for (const left of abandonedIn(dirname(out), 'handover', system)) removeFolder(files, left);
  const aside = asideOf(out, 'handover', out, system);
  removeFolder(files, aside);
  try {
    files.mkdir(aside);
    writeInto(aside);
    takeName(files, aside, out);
  } catch (error) {
    removeFolder(files, aside);
    throw error;
  }
}

function isThere(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false }) !== undefined;
}

function page(element: ReactElement): string {
  return `<!doctype html>\n${renderToStaticMarkup(element)}\n`;
}
