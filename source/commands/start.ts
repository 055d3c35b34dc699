import { join, resolve } from 'node:path';
import { createJob, newJobId } from '../job/create.ts';
import { endStart } from '../job/start-mark.ts';
import type { Finding } from '../plan/plan.ts';
import { readSettings } from '../settings.ts';
import type { Context, Given, Run } from './command.ts';
import { EXIT } from './exit.ts';
import { jobsFolderOf, ledgerOf } from './jobs-folder.ts';
import { problemsEnding, siteOf } from './problems.ts';

export const run: Run = (given, context) => {
  const site = siteOf(given.arguments[0] ?? '', given.all('board'));
  const id = newJobId(context.system);
  const named = given.text('job');
  const shelf = jobsFolderOf(given, context);
  const dir = named ?? join(shelf, id);
  const { settings, from, trouble } = readSettings(context.env);
  if (trouble) context.err(trouble);
  const made = createJob({
    surveyText: site.surveyText,
    surveyFile: site.surveyFile,
    boards: site.boardFiles,
    dir: resolve(dir),
    id,
    system: context.system,
    // Only what somebody set; a default stays a default, and is shown as assumed.
    ...(from.interruptionMinutes === 'default' ? {} : { interruptionMinutes: settings.interruptionMinutes }),
    ledger: () => ledgerOf(given, context),
    untilTold: { anywhereIn: named === undefined ? shelf : null },
  });
  if ('problems' in made) throw problemsEnding(made.problems);
  if ('blocked' in made) return blocked(made.blocked, given, context);
  made.close();
  if (made.ledgerTrouble) context.err(made.ledgerTrouble);
  if (given.json) {
    context.out(JSON.stringify({ format: 'loopward/started@1', id: made.id, job: made.dir }));
  } else {
    context.out(`Job ${made.id} opened in ${made.dir}.`);
    context.out(
      `Go on with: loopward resume ${made.dir}   or, in a script: loopward next ${made.dir} --json`,
    );
  }
  endStart(made.dir, context.system);
  return EXIT.done;
};

/** A plan that is blocked starts no work. */
function blocked(findings: readonly Finding[], given: Given, context: Context) {
  const because = findings.map((finding) => finding.message);
  if (given.json) {
    context.out(
      JSON.stringify({ format: 'loopward/started@1', refused: 'The plan is blocked.', because, findings }),
    );
  }
  context.err(['The plan is blocked, so no work starts.', ...because].join('\n'));
  return EXIT.refused;
}
