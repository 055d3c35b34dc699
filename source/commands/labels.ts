import { resolve } from 'node:path';
import { readLabelSheet, SHEETS_ACCEPTED } from '../handover/label-sheets.ts';
import { labelsToCsv, labelsToText, wireLabels } from '../handover/labels.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { readSettings } from '../settings.ts';
import type { Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { siteOf } from './problems.ts';

/** Wire labels from a survey: as text here, and with `--out` as text, CSV and a printable page. */
export const run: Run = async (given, context) => {
  const [file = ''] = given.arguments;
  const sheet = given.text('sheet') ?? readSettings(context.env).settings.labelSheet;
  if (readLabelSheet(sheet) === null)
    throw new Ending('usage', `${sheet} is no sheet of labels. Give ${SHEETS_ACCEPTED}.`);
  const { survey, boards } = siteOf(file, given.all('board'));
  const plan = planChangeover(survey, boards);
  const labels = wireLabels(plan);
  const out = given.text('out');
  if (out !== undefined) {
    // React is only needed for the page.
    const { composeLabels } = await import('../handover/write-handover.ts');
    const { writeTo } = await import('./handover.ts');
    for (const path of writeTo(resolve(out), composeLabels(plan, sheet), context)) context.out(path);
  } else if (given.json) context.out(JSON.stringify({ format: 'loopward/labels@1', labels }));
  else if (given.has('csv')) context.out(labelsToCsv(labels).trimEnd());
  else context.out(labelsToText(labels).trimEnd());
  return EXIT.done;
};
