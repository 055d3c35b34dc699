import { inputSheetToCsv, inputSheetToText } from '../handover/input-sheet.ts';
import { plain } from '../handover/plain.ts';
import { planInForce } from '../job/plan-of-basis.ts';
import { readJob } from '../job/read-job.ts';
import { shownAtRest } from '../job/shown-at-rest.ts';
import { inputSheet } from '../plan/input-sheet.ts';
import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';

/** The input sheet of a job: what has to be typed into whatever configures its boards. */
export const run: Run = (given, context) => {
  const job = readJob(jobFolderOf(given, context));
  const sheet = inputSheet(planInForce(job.basis, null));
  const shown = shownAtRest(sheet, job.procedure, job.results);
  const rows = sheet.map((row) => ({ ...row, shown: shown.get(`${row.board}/${row.input}`) ?? null }));
  if (given.json) context.out(JSON.stringify({ format: 'loopward/inputs@1', job: job.id, inputs: rows }));
  else if (given.has('csv')) context.out(inputSheetToCsv(rows).trimEnd());
  else for (const line of inputSheetToText(rows).trimEnd().split('\n')) context.out(plain(line));
  return EXIT.done;
};
