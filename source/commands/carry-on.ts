import { resolve } from 'node:path';
import { carryOnIn } from '../job/carry-on.ts';
import type { Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';
import { journalEnding } from './journal-ending.ts';

/** Goes on with a job in another folder, where its own could not be saved to or is damaged. */
export const run: Run = (given, context) => {
  const into = given.text('job');
  if (into === undefined) throw new Ending('usage', 'No folder is given. Say where to go on: --job FOLDER.');
  const dir = resolve(into);
  try {
    const { records, warnings } = carryOnIn(jobFolderOf(given, context), dir, context.system);
    for (const warning of warnings) context.err(warning);
    if (given.json)
      context.out(JSON.stringify({ format: 'loopward/carried-on@1', job: dir, records, warnings }));
    else {
      context.out(`The job goes on in ${dir}, linked to the last record that was saved.`);
      context.out('What was not saved is to be done again there: loopward next shows where it stands.');
    }
    return EXIT.done;
  } catch (error) {
    throw journalEnding(error);
  }
};
