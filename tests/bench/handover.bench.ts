import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createElement } from 'react';
import { renderToStaticMarkup } from 'react-dom/server';
import { buildDocument } from '../../source/handover/build-document.ts';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover } from '../../source/handover/write-handover.ts';
import { readRecords } from '../../source/journal/read.ts';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import { parseSurvey } from '../../source/site/parse-survey.ts';
import { SIXTY, sixtyText } from '../handover/sixty.ts';
import { withJob } from '../rehearsal/run-rehearsal.ts';
import { portOf } from '../rehearsal/trial.ts';
import type { Bench } from './bench.ts';

const folder = mkdtempSync(join(tmpdir(), 'bench-handover-'));
process.on('exit', () => rmSync(folder, { recursive: true, force: true }));
const dir = join(folder, 'job');
const text = sixtyText();
const read = parseSurvey(text, 'sixty.yaml');
if (!read.ok) throw new Error('The survey is not valid.');
withJob({ text, boards: read.survey.boards.map(({ file }) => file) }, (job, scene) => {
  const { worked } = rehearse(portOf(job), scene, SIXTY, []);
  if (!worked.closed) throw new Error(worked.stuck.join(' '));
  cpSync(job.dir, dir, { recursive: true });
});
const source = readHandoverSource(dir);
if (source.plan.survey.detectors.length !== 60) throw new Error('The job is not one of 60 detectors.');

/** The same cells as one plain table, by the same renderer: what React alone takes for so much text. */
const cells = buildDocument(source).sections.flatMap(({ blocks }) =>
  blocks.flatMap((block) => (block.kind === 'table' ? block.rows : [])),
);
const plainTable = () =>
  renderToStaticMarkup(
    createElement(
      'table',
      null,
      createElement(
        'tbody',
        null,
        cells.map((row, at) =>
          createElement(
            'tr',
            { key: at },
            row.map((cell, place) => createElement('td', { key: place }, JSON.stringify(cell))),
          ),
        ),
      ),
    ),
  );

export const benches: readonly Bench[] = [
  {
    name: 'every document of 60 detectors, from the folder',
    target: { milliseconds: 400 },
    baseline: { name: 'reading its journal as JSON, checked', run: () => [...readRecords(dir)].length },
    subject: {
      name: 'read and compose',
      run: () => composeHandover(readHandoverSource(dir), 'a4-65'),
    },
  },
  {
    name: 'every document of 60 detectors, read',
    target: { ratio: 25 },
    baseline: { name: 'react-dom/server, the same cells as one plain table', run: plainTable },
    subject: { name: 'compose', run: () => composeHandover(source, 'a4-65') },
  },
];
