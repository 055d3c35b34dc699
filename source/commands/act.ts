import { ActingJob, enterJob } from '../job/acting-job.ts';
import type { Acted } from '../job/action.ts';
import { sayTrouble } from '../job/way-on.ts';
import { JournalError } from '../journal/error.ts';
import { headToReadOut, parseHead } from '../journal/head.ts';
import type { Context, Run } from './command.ts';
import { EXIT, type ExitCode } from './exit.ts';
import { jobFolderOf, ledgerOf } from './jobs-folder.ts';

export const run: Run = async (given, context) => {
  const dir = jobFolderOf(given, context);
  const { system } = context;
  const ledger = () => ledgerOf(given, context);
  const job = enterJob(
    dir,
    system,
    (journal, replay) => new ActingJob(journal, replay, system, 'act', ledger, null),
  );
  try {
    const action = given.arguments[1] ?? '';
    if (action !== '-') return await answer(job, action, given.json, context);
    let worst: ExitCode = EXIT.done;
    for await (const line of context.lines()) {
      if (line.trim() === '') continue;
      const code = await answerOrTrouble(job, line, context);
      if (code > worst) worst = code;
      if (!job.isWritable) return worst;
    }
    return worst;
  } finally {
    if (job.ledgerTrouble) context.err(job.ledgerTrouble);
    job.close();
  }
};

/** What could not be saved is answered too: whoever asked must not wait for ever, nor take it for done. */
async function answerOrTrouble(job: ActingJob, line: string, context: Context): Promise<ExitCode> {
  try {
    return await answer(job, line, true, context);
  } catch (error) {
    if (!(error instanceof JournalError)) throw error;
    const says = sayTrouble(error);
    context.out(JSON.stringify({ format: 'loopward/acted@1', notSaved: says, kind: error.kind }));
    context.err(says);
    return EXIT.refused;
  }
}

/** One action, one answer. On standard input each answer is a line of JSON, whatever it is. */
async function answer(job: ActingJob, text: string, json: boolean, context: Context): Promise<ExitCode> {
  const action = parse(text);
  if (job.needsPlanning(action)) job.handPlanning((await import('../job/planning.ts')).PLANNING);
  const acted = job.act(action);
  if (json) context.out(JSON.stringify(acted));
  else say(acted, context);
  return codeOf(acted);
}

function parse(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

function codeOf(acted: Acted): ExitCode {
  if ('malformed' in acted) return EXIT.usage;
  if ('refused' in acted || 'challenge' in acted) return EXIT.refused;
  return acted.outcome === 'failed' ? EXIT.refused : EXIT.done;
}

function say(acted: Acted, context: Context): void {
  if ('malformed' in acted) {
    context.err(acted.malformed);
    return;
  }
  if ('challenge' in acted) {
    context.err(`${acted.says}\nIf it is meant so, say it again with "acknowledge": ["${acted.challenge}"].`);
    return;
  }
  if ('refused' in acted) {
    context.err([acted.refused, ...acted.because].join('\n'));
    return;
  }
  context.out(`${acted.outcome}, record ${acted.records.join(', ') || 'none'}`);
  for (const line of acted.told ?? []) context.out(`  ${line}`);
  for (const { says, try: tries } of acted.causes) context.out(`  ${says} ${tries}`);
  const head = acted.head === undefined ? null : parseHead(acted.head);
  if (head) {
    context.out('The head of the record. Keep it outside this computer, by mail or on paper:');
    const { count, digest } = head;
    for (const line of headToReadOut({ count: count ?? 0, digest })) context.out(`  ${line}`);
  }
  const [ahead] = acted.next.open;
  if (ahead) context.out(`Next: ${ahead.id}: ${ahead.title}`);
}
