import type { OpenJob } from '../app/state.ts';
import { GLYPHS } from '../draw/glyphs.ts';
import { loopLine } from '../draw/loop-line.ts';
import type { JobPort } from '../port.ts';
import { stepOf } from '../step/state.ts';
import { STAGE_WORDS, SUPPLY_WORDS } from '../words.ts';

/** What must be known before the first step, in the order in which it is read. */
export function briefingLines(port: JobPort): readonly string[] {
  const { siteName, rehearsal, next } = port.look();
  const briefing = port.briefing();
  return [
    `${rehearsal ? 'REHEARSAL. ' : ''}${siteName}: ${next.done} of ${next.total} done.`,
    `Who: ${briefing.who ?? 'nobody has said yet'}. Since: ${briefing.since}.`,
    `Supply: ${SUPPLY_WORDS[next.supply].says.toLowerCase()}.`,
    ...briefing.wasThen.map((says) => `  ${says} (not proved)`),
    ...briefing.warnings.map((says) => `Warning: ${says}`),
    ...briefing.notAsPlanned.map((says) => `Not as planned: ${says}.`),
    ...briefing.proveAgain.map((says) => `To be proved again: ${says}.`),
    ...(briefing.lookBack === null ? [] : [`Last: ${briefing.lookBack}`]),
    ...(briefing.lookAhead === null ? [] : [`Next: ${briefing.lookAhead}`]),
  ];
}

/** A step as lines: cautions, the one action, why, the loop that is read. */
export function cardLines(job: OpenJob, id: string): readonly string[] {
  const step = stepOf(job, id);
  const open = job.next.open.find((one) => one.id === id);
  if (!step || !open) return [];
  const { next } = job;
  const loops = open.proof.flatMap((proof) => {
    const point =
      proof.kind === 'reading' ? job.plan.points.find((one) => one.id === proof.point) : undefined;
    return point ? [`  ${loopLine(point.between, point.expression, point.with, GLYPHS.ascii)}`] : [];
  });
  return [
    '',
    `${STAGE_WORDS[open.stage]}, ${Math.min(next.done + 1, next.total)} of ${next.total}. Supply: ${SUPPLY_WORDS[next.supply].says.toLowerCase()}.`,
    ...step.cautions.map((caution) => `Caution: ${caution.text} (${caution.source})`),
    open.title,
    `  ${open.why}`,
    ...loops,
  ];
}
