import { CAUSES, type Cause } from '../../electrical/causes.ts';
import { answerWords, entriesOf, lastAnswer, readingWords } from '../answer-words.ts';
import type { Entry } from '../collect.ts';
import type { Block, Cell, Section } from '../document.ts';
import { differences, untested } from './differences.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';
import { table } from './table.ts';

/** What did not go by plan comes first: deviations, failures, what is open, what was excluded. */
export function firstSection(source: HandoverSource): Section {
  const blocks = [
    differences(source),
    untested(source),
    deviations(source),
    failures(source),
    corrections(source),
    openPoints(source),
  ].flat();
  const calm = 'Nothing was deviated from, no reading failed, and nothing was left open.';
  return {
    id: 'first',
    title: 'First: what did not go by plan',
    blocks: blocks.length > 0 ? blocks : [{ kind: 'words', text: calm }],
  };
}

function deviations(source: HandoverSource): Block[] {
  const rows = source.collected.entries
    .filter((entry) => entry.did === 'deviate')
    .map((entry): Cell[] => [
      entry.title,
      entry.reason ?? '',
      entry.residualRisk ?? '',
      nameOf(source, entry.by),
      whenOf(source, entry.at),
      { records: [entry.n] },
    ]);
  return table(
    'Deviations',
    ['step', 'reason', 'residual risk', 'by', 'when', 'record'],
    rows,
    [26, 22, 19, 10, 14, 9],
  );
}

function failures(source: HandoverSource): Block[] {
  const rows = source.collected.entries
    .filter((entry) => entry.outcome === 'failed')
    .map((entry): Cell[] => {
      const later = source.collected.entries.find(
        (one) => one.stepId === entry.stepId && one.n > entry.n && one.outcome !== 'failed',
      );
      return [
        entry.title,
        failedWords(entry),
        entry.causes.map((cause) => CAUSES[cause as Cause] ?? cause).join('; '),
        later === undefined ? 'still open' : laterWords(later),
        { records: later === undefined ? [entry.n] : [entry.n, later.n] },
      ];
    });
  return table(
    'Readings and steps that failed, first values kept',
    ['step', 'what was found', 'likely causes then', 'settled by', 'records'],
    rows,
    [18, 35, 26, 12, 9],
  );
}

function failedWords(entry: Entry): string {
  if (entry.reason !== null) return entry.reason;
  const failed = entry.answers.filter((answer) => answer.value.verdict === 'failed');
  return (failed.length > 0 ? failed : entry.answers)
    .map((answer) => `${answer.label}: ${readingWords(answer)}`)
    .join('; ');
}

function laterWords(entry: Entry): string {
  if (entry.did === 'confirm') return 'a new reading that passed';
  return entry.did === 'deviate' ? 'a deviation' : `${entry.did}`;
}

function corrections(source: HandoverSource): Block[] {
  const rows = source.collected.remarks
    .filter((remark) => remark.kind === 'correct')
    .map((remark): Cell[] => [
      remark.text,
      nameOf(source, remark.by),
      whenOf(source, remark.at),
      { records: [remark.n] },
    ]);
  return table('Corrections of the survey', ['what', 'by', 'when', 'record'], rows, [48, 16, 26, 10]);
}

function openPoints(source: HandoverSource): Block[] {
  const { collected, plan } = source;
  const rows: Cell[][] = [];
  for (const [step, status] of Object.entries(collected.replay.state.context.status)) {
    if (!['begun', 'failed', 'unknown'].includes(status)) continue;
    const title = collected.replay.procedure.steps.find((one) => one.id === step)?.title ?? step;
    rows.push([title, status === 'unknown' ? 'half done, never said how far' : status, { records: [] }]);
  }
  const impaired = entriesOf(collected, 'impairment.open').findLast((entry) => entry.outcome === 'passed');
  const restored = lastAnswer(collected, 'impairment.restore', 'by');
  if (impaired !== undefined && restored === null) {
    rows.push(['An impairment of a life-safety circuit is open', 'not restored', { records: [impaired.n] }]);
  }
  const told = entriesOf(collected, 'handover.user').at(-1);
  const open = told?.answers.find((answer) => answer.field === 'open-points');
  if (told !== undefined && open !== undefined && open.value.typed !== 'none') {
    rows.push(['Open points told to the user', answerWords(open), { records: [told.n] }]);
  }
  for (const held of plan.heldOut) {
    const name = plan.survey.detectors.find((d) => d.id === held.detector)?.name ?? held.detector;
    rows.push([`${name} was not moved`, 'life safety: an input board is no fire panel', { records: [] }]);
  }
  return table('Open, and left out on purpose', ['what', 'how it stands', 'record'], rows, [45, 45, 10]);
}
