import type { Acted } from '../job/action.ts';
import { readHistory } from '../job/history.ts';
import type { Job } from '../job/job.ts';
import { planInForce } from '../job/plan-of-basis.ts';
import type { Step } from '../procedure/step.ts';
import { accompany, type Companion, type Found, type Tried } from '../rehearsal/companion.ts';
import type { JobPort } from './port.ts';

/** What a rehearsal adds to a job in the screens: a building that answers, is searched, and is told of at the end. */
type RehearsalPort = Pick<JobPort, 'meter' | 'search' | 'debrief'> & {
  /** A card was confirmed; called with its answer. */
  readonly confirmed: (step: Step, values: Tried['values'], acted: Acted) => void;
};

const NO_BUILDING: RehearsalPort = {
  meter: () => ({}),
  search: () => [],
  debrief: () => [],
  confirmed: () => {},
};

/** How what was found stands in the record, so that a job taken up again finds its building as it was left. */
const FOUND = /^Rehearsal, found: (\S+)\. /;

/** The simulated building beside a rehearsed job, as it stands after all that is on record; none at a real job. */
export function rehearsalOf(job: Job): RehearsalPort {
  const { rehearsal } = job;
  if (rehearsal === null) return NO_BUILDING;
  const { survey, wiring, boards } = planInForce(job.firstBasis, job.known.site);
  const companion = accompany({ survey, wiring, boards }, rehearsal);
  const past = takeUp(job, companion);
  const tried = new Map<string, Tried>();
  return {
    meter: (id) => {
      const card = job.next().open.find((step) => step.id === id);
      return card ? companion.answers(card) : {};
    },
    search: (id) => {
      const last = tried.get(id);
      if (last === undefined || last.causes.length === 0) return ['Nothing was read here that does not fit.'];
      const found = companion.look(last);
      for (const one of found) {
        job.act({ do: 'note', text: `Rehearsal, found: ${one.fault}. ${foundWords(one)}`, step: id });
        past.at.set(one.fault, id);
      }
      return found.length === 0 ? ['Nothing is found behind it.'] : found.map(foundWords);
    },
    debrief: () => debriefWords(job, companion, past.at),
    confirmed: (step, values, acted) => {
      if (!('outcome' in acted)) return;
      const passed = acted.outcome !== 'failed';
      if (passed) companion.passed(step);
      tried.set(step.id, { card: step, values, causes: acted.causes.map(({ cause }) => cause), passed });
    },
  };
}

/** All that was done and found before, in order. */
function takeUp(job: Job, companion: Companion): { readonly at: Map<string, string> } {
  const steps = new Map(job.procedure.steps.map((step) => [step.id, step]));
  const at = new Map<string, string>();
  for (const { kind, data, step } of readHistory(job.dir)) {
    const known = step === null ? undefined : steps.get(step);
    if (kind === 'act' && data.do === 'confirm' && data.outcome !== 'failed' && known !== undefined)
      companion.passed(known);
    const fault = kind === 'note' && typeof data.text === 'string' ? FOUND.exec(data.text)?.[1] : undefined;
    if (fault === undefined) continue;
    companion.found(fault);
    at.set(fault, step ?? '');
  }
  return { at };
}

function foundWords({ says, correct }: Found): string {
  const sentence = `${says.charAt(0).toUpperCase()}${says.slice(1)}.`;
  if (correct.length === 0) return sentence;
  return `${sentence} Correct the survey: ${correct.join(', ')}.`;
}

/** What stands in the building still is named once the job is closed: until then it is to be found. */
function debriefWords(job: Job, companion: Companion, at: ReadonlyMap<string, string>): string[] {
  const { seed } = job.rehearsal!;
  const all = companion.debrief();
  const missed = all.filter(({ found }) => !found);
  const lines = all
    .filter(({ found }) => found)
    .map(({ fault, says }) => `${fault}, found at ${at.get(fault) ?? 'another step'}: ${says}`);
  if (job.closed) lines.push(...missed.map(({ fault, says }) => `${fault}, missed: ${says}`));
  else if (missed.length > 0) lines.push(`Still to be found: ${missed.length}.`);
  if (all.length === 0) lines.push('Nothing was wrong in this building.');
  lines.push(...companion.harm().map((says) => `HARM: ${says}.`));
  const tries = [...job.results.values()].flat().filter((one) => one.do === 'confirm');
  lines.push(`Seed ${seed}. ${tries.length} cards confirmed, ${timeTaken(job)}.`);
  return lines;
}

function timeTaken(job: Job): string {
  const minutes = Math.round((Date.parse(job.lastRecord?.at ?? '') - Date.parse(job.openedAt)) / 60_000) || 0;
  return minutes < 60 ? `${minutes} min` : `${Math.floor(minutes / 60)} h ${minutes % 60} min`;
}
