import type { Job } from '../../job/job.ts';
import { sourceName } from '../../procedure/source-name.ts';
import type { Step } from '../../procedure/step.ts';
import type { Act } from '../../wiring/act.ts';
import type { Briefing } from '../port.ts';
import { nextOpen } from '../step/state.ts';
import { spanWords } from '../times.ts';

/** What somebody who comes back must know, from the job as it is and as it stood before this sitting. */
export function briefingOf(job: Job, now: Date): Briefing {
  const next = job.next();
  const { lastAt, person, sitting } = job.before;
  const seconds = lastAt === null ? 0 : Math.max(0, (now.getTime() - Date.parse(lastAt)) / 1000);
  const by = person === null ? '' : `, ${job.nameOf(person)} was working`;
  const done = job.procedure.steps.findLast((step) => job.state.context.status[step.id] === 'done');
  const { supply } = job.state;
  return {
    who: next.personName,
    since:
      lastAt === null || sitting === 'none'
        ? 'the job is new'
        : `${spanWords(seconds)} since the last record${by}`,
    wasThen: sources(job),
    warnings: next.warnings,
    notAsPlanned: (next.differs ?? []).map(({ what, why }) => `${what}${why === null ? '' : `: ${why}`}`),
    proveAgain:
      supply === 'unproven'
        ? [`dead, with the ${job.state.context.owed} proof: every source, rail and bare conductor`]
        : [],
    lookBack: done?.title ?? null,
    lookAhead: nextOpen({ next, status: job.state.context.status })?.title ?? null,
  };
}

// What was isolated or connected by what was done, each source as it was left last: facts then, not proof now.
function sources(job: Job): readonly string[] {
  const words: Partial<Record<Act['do'], string>> = { isolate: 'isolated', 'connect-source': 'connected' };
  const lastOf = (id: string) => job.results.get(id)?.at(-1)?.n ?? 0;
  const told = job.procedure.steps
    .filter((step) => ['done', 'deviated'].includes(job.state.context.status[step.id] ?? ''))
    .sort((a, b) => lastOf(a.id) - lastOf(b.id))
    .flatMap((step) =>
      actsDone(job, step).flatMap((act) => {
        const word = words[act.do];
        return word !== undefined && 'source' in act ? [[act.source, word] as const] : [];
      }),
    );
  return [...new Map(told)].map(([source, word]) => `${sourceName(source)} was ${word}`);
}

/** As recorded; of a record of before acts were kept, those of a step that passed. */
function actsDone(job: Job, { id, acts }: Step): readonly Act[] {
  const recorded = job.results.get(id)?.findLast((one) => one.acts !== null)?.acts;
  if (recorded) return recorded.flatMap(({ act, went }) => (went === 'done' ? [act] : []));
  return job.state.context.status[id] === 'done' ? acts : [];
}
