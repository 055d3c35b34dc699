import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { readHandoverSource } from '../../source/handover/read-source.ts';
import { composeHandover, writeDocuments } from '../../source/handover/write-handover.ts';
import { bundledFile, DEMO_SURVEY } from '../../source/job/bundled.ts';
import { realFiles, realSystem, type System } from '../../source/journal/system.ts';
import { run } from '../commands/run.ts';
import { sixtyText } from './sixty.ts';

/** The disk without waiting for it: the documents are looked at here, not the writing. */
export const hasty: System = { ...realSystem(), files: { ...realFiles, fsync: () => {} } };

export const JOBS = ['demo', 'sixty'] as const;
export type JobName = (typeof JOBS)[number] | 'hostile';

/** Names of the demo's things, and what somebody who means harm could have typed for them that a survey takes. */
export const HOSTILE: readonly (readonly [string, string])[] = [
  ['Harbour sailing club', '<script>alert(1)</script>'],
  ['Boat store', '=cmd|calc!A1'],
  ['Boat-store shutter', '<script>alert(2)</script><b onclick=alert(3)>'],
  ['Boat-store side door', '=HYPERLINK("http://host.invalid/", "press")'],
  ['Galley door', 'W'.repeat(80)],
  ['Galley window', 'باب المطبخ (שער) 12'],
  ["Members' hall movement", '🏴👨👩🧯 漢字の名前がとても長い場合はどうなりますか'],
  ["Members' hall glass-break", '"><img src=x onerror=alert(4)>'],
  ['Sail-loft movement', '@SUM(1+1)*cmd|calc'],
  ['Race-office door', '+1+1'],
  ['Race-office window', '-2+3,"'],
  ['Pump-pit float switch', ']]></style></svg><!-- &amp; &#60;'],
];

/** A job carried out by the rehearsed technician, in `folder`. */
export async function carryOutJob(name: JobName, folder: string): Promise<string> {
  let survey = bundledFile(DEMO_SURVEY);
  if (name === 'sixty') {
    survey = join(folder, 'sixty.yaml');
    writeFileSync(survey, sixtyText());
  }
  if (name === 'hostile') {
    let text = readFileSync(survey, 'utf8');
    for (const [plain, hostile] of HOSTILE) {
      const told = new RegExp(`name: ${plain}(?=[,}\\n])`);
      if (!told.test(text)) throw new Error(`The demo has no ${plain}.`);
      text = text.replace(told, () => `name: ${JSON.stringify(hostile)}`);
    }
    survey = join(folder, 'hostile.yaml');
    writeFileSync(survey, text);
  }
  const dir = join(folder, name);
  const { code, err } = await run(['rehearse', survey, '--seed', '5', '--job', dir], { system: hasty });
  if (code !== 0) throw new Error(`The job was not carried out: ${err}`);
  if (name === 'hostile') spoilNames(dir);
  return dir;
}

/** A survey takes neither control characters nor longer names; whoever edits the private file can write anything. */
function spoilNames(dir: string): void {
  const path = join(dir, 'private.json');
  const known = JSON.parse(readFileSync(path, 'utf8'));
  const worst = `=1+1 <script>alert(5)</script>\u202e\u001b[2J\u0007 \u{1f3f4}\u200d\u2620\ufe0f ${'x'.repeat(300)}`;
  for (const id of Object.keys(known.persons)) known.persons[id] = worst;
  known.site = { ...known.site, address: worst, contact: worst };
  writeFileSync(path, JSON.stringify(known));
}

/** Writes a job's documents into a folder of their own. */
export function writePapers(dir: string): string {
  const out = `${dir}-papers`;
  writeDocuments(out, composeHandover(readHandoverSource(dir), 'a4-65'));
  return out;
}
