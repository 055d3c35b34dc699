import { readDraft, writeDraft } from '../job/draft.ts';
import { readHistory } from '../job/history.ts';
import { detailOf } from '../job/history-detail.ts';
import type { Job } from '../job/job.ts';
import { valueNamed } from '../job/records.ts';
import type { System } from '../journal/system.ts';
import { verifyJournal } from '../journal/verify.ts';
import { lookUp } from '../procedure/lookup.ts';
import { presentStepById } from '../procedure/present.ts';
import { briefingOf } from './briefing/compute.ts';
import type { JobLook, JobPort } from './port.ts';
import { rehearsalOf } from './rehearsal-port.ts';
import { localTime } from './times.ts';

/** An open job as the screens see it. */
export function portOf(job: Job, system: System): JobPort {
  const rehearsal = rehearsalOf(job);
  return {
    id: job.id,
    dir: job.dir,
    look: () => lookAt(job),
    act: (action) => {
      // As it was shown: a proof of dead goes to the places of that moment.
      const step =
        action.do === 'confirm' ? presentStepById(job.procedure, job.state, action.step) : undefined;
      const acted = job.act(action);
      if (step && action.do === 'confirm') rehearsal.confirmed(step, action.values, acted);
      return acted;
    },
    meter: rehearsal.meter,
    search: rehearsal.search,
    debrief: rehearsal.debrief,
    chain: () => {
      const { says, head } = verifyJournal(job.dir);
      return head === null ? [says] : [says, `Head ${head}`];
    },
    briefing: () => briefingOf(job, system.now()),
    history: (filter) =>
      [...readHistory(job.dir, filter)].map((entry) => ({
        n: entry.n,
        at: localTime(entry.at),
        kind: entry.kind,
        person: entry.person,
        step: entry.step,
        says: entry.says,
        detail: detailOf(entry),
      })),
    previewCorrection: (set) => job.previewCorrection(set),
    readDraft: () => readDraft(job.dir),
    writeDraft: (draft) => writeDraft(job.dir, draft),
    carryOn: (into) => portOf(job.continueIn(into), system),
    here: () => job.here(),
    close: () => job.close(),
  };
}

function lookAt(job: Job): JobLook {
  const { known, procedure } = job;
  return {
    siteName: job.known.site?.name || job.id,
    rehearsal: job.rehearsal !== null,
    plan: job.plan,
    steps: procedure.steps,
    status: job.state.context.status,
    next: job.next(),
    dependents: lookUp(procedure).dependents,
    warmUntil: warmUntil(job),
    persons: Object.values(known.persons).reverse(),
    values: valuesOf(job),
  };
}

// Power came with the last step that gave it.
function warmUntil(job: Job): Record<string, number> {
  const gives = job.procedure.steps.filter(({ effect }) => effect === 'energise').map(({ id }) => id);
  const times = gives
    .flatMap((id) => job.results.get(id) ?? [])
    .filter(({ outcome }) => outcome === 'passed');
  const from = Math.max(...times.map(({ at }) => Date.parse(at)));
  if (!Number.isFinite(from)) return {};
  return Object.fromEntries(
    job.plan.survey.detectors.flatMap(({ id, supply }) =>
      supply === null || supply === 'from-loop' ? [] : [[id, from + supply.warmUpSeconds * 1000]],
    ),
  );
}

// What was typed at the last try of each step: what looking back shows.
function valuesOf(job: Job): JobLook['values'] {
  const found: Record<string, Record<string, string>> = {};
  const { persons } = job.known;
  const nameOf = (person: string) => persons[person] ?? person;
  for (const [step, tries] of job.results) {
    const last = tries.findLast((result) => result.do === 'confirm');
    if (!last) continue;
    found[step] = Object.fromEntries(
      Object.entries(last.values).flatMap(([field, value]) => {
        const { kind, typed, at = '', points = 0 } = valueNamed(value, nameOf);
        if (kind !== 'sweep') return [[field, typed]];
        return [
          [`${field}.greatest`, typed],
          [`${field}.at`, at],
          [`${field}.points`, String(points)],
        ];
      }),
    );
  }
  return found;
}

/** The port with whoever works here as a rule offered first. */
export function withUsual(port: JobPort | string, usual: string): JobPort | string {
  if (typeof port === 'string' || usual === '') return port;
  const look = () => {
    const seen = port.look();
    return { ...seen, persons: [usual, ...seen.persons.filter((name) => name !== usual)] };
  };
  const carryOn = (into: string) => withUsual(port.carryOn(into), usual) as JobPort;
  return { ...port, look, carryOn };
}
