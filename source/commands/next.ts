import { spanWords } from '../electrical/window-words.ts';
import { plain } from '../handover/plain.ts';
import type { Differs, Next, OpenStep } from '../job/action.ts';
import { readJob } from '../job/read-job.ts';
import { QUANTITY_OF } from '../procedure/figure.ts';
import type { Proof, ReadingProof } from '../procedure/step.ts';
import { SUPPLY_WORDS } from '../procedure/words.ts';
import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';

export const run: Run = (given, context) => {
  const next = readJob(jobFolderOf(given, context)).next(context.system);
  if (given.json) context.out(JSON.stringify(next));
  else for (const line of sayNext(next)) context.out(plain(line));
  return EXIT.done;
};

/** Where a job stands, for reading: state, warnings, what is open in full, what is locked in a line each. */
function sayNext(next: Next): string[] {
  const who = next.personName ?? 'nobody on shift';
  return [
    `${next.job}${next.rehearsal ? ' (REHEARSAL)' : ''}: ${next.closed ? 'closed' : next.stage}, ${next.done} of ${next.total} done, ${who}`,
    `Supply: ${SUPPLY_WORDS[next.supply]}`,
    ...next.warnings.map((warning) => `! ${warning}`),
    ...(next.differs ?? []).map(sayDiffers),
    ...next.open.flatMap(sayStep),
    ...(next.locked.length > 0 ? ['', `Locked: ${next.locked.length}`] : []),
    ...next.locked.slice(0, LOCKED_SHOWN).map(({ id, says }) => `  ${id}: ${says}`),
    ...(next.locked.length > LOCKED_SHOWN
      ? [`  ... ${next.locked.length - LOCKED_SHOWN} more; --json has them all`]
      : []),
    ...(next.closed || next.open.length > 0
      ? []
      : ['', 'To close:', ...next.closeNeeds.map((one) => `  ${one}`)]),
  ];
}

function sayDiffers({ what, why, record }: Differs): string {
  return `! NOT AS PLANNED: ${what}${why === null ? '' : `: ${why}`}${record === null ? '' : ` (#${record})`}`;
}

const LOCKED_SHOWN = 8;

function sayStep(step: OpenStep): string[] {
  return [
    '',
    ...step.cautions.map((caution) => `  CAUTION ${caution}`),
    `${step.id}: ${step.title}${step.hard ? ' [gate]' : ''}`,
    `  ${step.why}`,
    ...step.proof.map((proof) => `  ${proof.field}: ${sayProof(proof)}`),
  ];
}

function sayProof(proof: Proof): string {
  switch (proof.kind) {
    case 'reading':
      return `${proof.label}, ${proof.open === 'must' ? 'open' : windowSays(proof)}`;
    case 'sweep':
      return `${proof.label}, ${windowSays(proof)} at ${proof.points.length} points`;
    case 'choice':
      return `${proof.label}: ${proof.options.map((option) => option.id).join(' | ')}`;
    case 'text':
      return proof.label;
    case 'observation':
      return `${proof.label}: open | closed | nothing`;
  }
}

/** The window of an answer as it is printed everywhere, in the unit that is typed. */
function windowSays({ min, max, of }: Pick<ReadingProof, 'min' | 'max' | 'of'>): string {
  const span = spanWords(min, max, QUANTITY_OF[of]);
  return span === '' ? 'as it is' : span;
}
