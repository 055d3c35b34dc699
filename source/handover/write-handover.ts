import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { createElement, type ReactElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import type { AsLeft } from '../job/as-left-record.ts';
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

/** Writes documents into a folder that is made where it is missing, for its owner alone. */
export function writeDocuments(out: string, documents: ReadonlyMap<string, string>): string[] {
  mkdirSync(out, { recursive: true, mode: 0o700 });
  return [...documents].map(([name, text]) => {
    const path = join(out, name);
    writeFileSync(path, text, { mode: 0o600 });
    return path;
  });
}

function page(element: ReactElement): string {
  return `<!doctype html>\n${renderToStaticMarkup(element)}\n`;
}
