import { sayDifference } from '../../job/difference-words.ts';
import type { StepStatus } from '../../procedure/state.ts';
import type { Block, Cell } from '../document.ts';
import { type HandoverSource, isClosed, nameOf, whenOf } from './source.ts';
import { table } from './table.ts';

/** What is not as planned, first of all: what, why, by whom, and what it costs. */
export function differences(source: HandoverSource): Block[] {
  const { left, collected } = source;
  const rows = (left?.differs ?? []).map((difference): Cell[] => {
    const entry = collected.entries.find(({ n }) => n === difference.record) ?? null;
    const by = entry === null ? '' : `${nameOf(source, entry.by)}, ${whenOf(source, entry.at)}`;
    return [
      sayDifference(difference, left!.wiring),
      entry?.reason ?? entry?.title ?? 'not recorded',
      entry?.residualRisk ?? '',
      by,
      { records: entry === null ? [] : [entry.n] },
    ];
  });
  return table(
    'Not as planned: how it is left',
    ['what', 'why', 'what it costs', 'by and when', 'record'],
    rows,
    [34, 22, 20, 15, 9],
  );
}

/** What was not tested: given up, or never come to. */
export function untested(source: HandoverSource): Block[] {
  const { left, collected } = source;
  if (left === null) return [];
  const { status } = collected.replay.state.context;
  const rows = collected.replay.procedure.steps
    .filter(({ id, stage }) => stage === 'walk-test' && isUntested(status[id], isClosed(source)))
    .map(({ id, title }): Cell[] => {
      const entry = collected.entries.findLast(({ stepId }) => stepId === id) ?? null;
      const stands =
        status[id] === 'deviated' ? `given up: ${entry?.reason ?? ''}` : WORDS[status[id] ?? 'open'];
      return [title, stands ?? 'not done', { records: entry === null ? [] : [entry.n] }];
    });
  return table('NOT TESTED', ['test', 'why', 'record'], rows, [50, 40, 10]);
}

/** While the work goes on, what is still to come is no news. */
function isUntested(status: StepStatus | undefined, closed: boolean): boolean {
  if (status === 'deviated' || status === 'failed') return true;
  return closed && status !== 'done' && status !== 'excluded';
}

const WORDS: Readonly<Record<string, string>> = {
  open: 'not done yet',
  begun: 'begun, not finished',
  failed: 'failed, not done again since',
  unknown: 'opened again, not done since',
};
