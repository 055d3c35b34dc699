import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { createJob } from '../job/create.ts';
import { debriefLines } from '../rehearsal/debrief.ts';
import { listFaults, type Rehearsal, rehearse } from '../rehearsal/rehearse.ts';
import { wiringAsFound } from '../site/wiring-as-found.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT, type ExitCode } from './exit.ts';
import { unknownName } from './nearest.ts';
import { problemsEnding, siteOf } from './problems.ts';

export const run: Run = (given, context) => {
  if (given.has('list-faults')) return list(given, context);
  const file = given.arguments[0];
  if (!file)
    throw new Ending('usage', 'No survey is given. Give one, or ask with --list-faults what can be wrong.');
  const seed = seedOf(given);
  const faults = faultsOf(given);
  const site = siteOf(file, given.all('board'));
  const dir = resolve(given.text('job') ?? join(mkdtempSync(join(tmpdir(), 'loopward-rehearsal-')), 'job'));
  const made = createJob({
    surveyText: site.surveyText,
    surveyFile: site.surveyFile,
    boards: site.boardFiles,
    dir,
    system: context.system,
    rehearsal: { seed, faults },
  });
  if ('problems' in made) throw problemsEnding(made.problems);
  if ('blocked' in made) {
    throw new Ending(
      'refused',
      [
        'The plan is blocked, so there is nothing to rehearse.',
        ...made.blocked.map(({ message }) => message),
      ].join('\n'),
    );
  }
  try {
    const scene = { survey: site.survey, wiring: wiringAsFound(site.survey), boards: site.boards };
    const port = { next: () => made.next(), act: (action: unknown) => made.act(action) };
    const rehearsal = rehearse(port, scene, seed, faults);
    if (given.json) context.out(JSON.stringify(asJson(rehearsal, made.head.count, dir)));
    else
      for (const line of [...debriefLines(rehearsal, context.columns), `The record: ${dir}`])
        context.out(line);
    return rehearsal.worked.closed ? EXIT.done : EXIT.refused;
  } finally {
    made.close();
  }
};

function asJson(
  { seed, faults, caught, worked, missed, noPlace, harm, seconds }: Rehearsal,
  records: number,
  job: string,
) {
  return {
    format: 'loopward/rehearsal@1',
    seed,
    faults,
    caught,
    closed: worked.closed,
    records,
    job,
    missed,
    noPlace,
    harm,
    stuck: worked.stuck,
    deviated: worked.deviated,
    confirmations: worked.confirmations,
    readings: worked.readings,
    seconds,
  };
}

function list(given: Given, context: Context): ExitCode {
  const faults = listFaults();
  if (given.json) context.out(JSON.stringify({ faults }));
  else {
    const wide = Math.max(...faults.map(({ name }) => name.length));
    for (const { name, says, harms } of faults) {
      context.out(`${name.padEnd(wide)}  ${says}${harms ? ' It can do harm.' : ''}`);
    }
  }
  return EXIT.done;
}

function seedOf(given: Given): number {
  const text = given.text('seed') ?? '1';
  const seed = Number(text);
  if (!Number.isSafeInteger(seed) || seed < 0) {
    throw new Ending('usage', `--seed ${text} is no whole number. Give one such as 7.`);
  }
  return seed;
}

function faultsOf(given: Given): readonly string[] {
  const known = new Set(listFaults().map(({ name }) => name));
  for (const name of given.all('fault')) {
    if (!known.has(name)) {
      throw unknownName('fault', name, [...known]);
    }
  }
  return given.all('fault');
}
