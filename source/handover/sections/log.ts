import { codeToScan, headToReadOut } from '../../journal/head.ts';
import { sourceBegins } from '../../procedure/source-name.ts';
import { answerWords, readingWords } from '../answer-words.ts';
import { powerLeft } from '../as-left/power.ts';
import type { Answer } from '../collect.ts';
import type { Block, Cell, Section } from '../document.ts';
import { stripsAsFound } from '../drawing/strips-as-found.ts';
import { stripsAsLeft } from '../drawing/strips-as-left.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';
import { table } from './table.ts';

/** The wiring before and after, as drawings. */
export function wiringSection(source: HandoverSource): Section {
  const { plan } = source;
  return {
    id: 'wiring',
    title: 'Wiring, as found and as left',
    blocks: [{ kind: 'strips', found: stripsAsFound(plan), left: stripsAsLeft(source) }, ...power(source)],
  };
}

/** What is live and what is off, with the record that made it so. */
function power(source: HandoverSource): Block[] {
  const rows = powerLeft(source).map(({ source: from, stands, record }): Cell[] => [
    sourceBegins(from),
    stands,
    { records: record === null ? [] : [record] },
  ]);
  return table('Power', ['source', 'stands', 'record'], rows, [60, 25, 15]);
}

/** Every result, break, note and correction in the order of the record. */
export function logSection(source: HandoverSource): Section {
  const { entries, remarks } = source.collected;
  const did = entries.map((entry) => ({
    n: entry.n,
    row: [
      { records: [entry.n] },
      whenOf(source, entry.at),
      nameOf(source, entry.by),
      `${entry.title}: ${entry.did === 'confirm' ? entry.outcome : entry.did}`,
      [
        ...entry.answers.map((answer) => `${answer.label}: ${wordsOf(answer)}`),
        ...(entry.reason === null ? [] : [`reason: ${entry.reason}`]),
        ...(entry.residualRisk === null ? [] : [`residual risk: ${entry.residualRisk}`]),
      ].join('; '),
    ] satisfies Cell[],
  }));
  const said = remarks.map((remark) => ({
    n: remark.n,
    row: [
      { records: [remark.n] },
      whenOf(source, remark.at),
      nameOf(source, remark.by),
      remark.text,
      '',
    ] satisfies Cell[],
  }));
  const rows = [...did, ...said].sort((a, b) => a.n - b.n).map(({ row }): Cell[] => row);
  return {
    id: 'log',
    title: 'The record, in order',
    blocks: [
      {
        kind: 'table',
        caption: 'Numbers are those of the journal',
        columns: ['record', 'when', 'who', 'what', 'values'],
        rows,
        widths: [7, 13, 11, 27, 42],
      },
      ...behindDamage(source),
    ],
  };
}

/** What stands behind damage is shown, so that nobody has to guess, and marked in every row. */
function behindDamage(source: HandoverSource): Block[] {
  const rows = source.collected.unproved.map((remark): Cell[] => [
    String(remark.n),
    whenOf(source, remark.at),
    nameOf(source, remark.by),
    `NOT PROVED: ${remark.text}`,
  ]);
  return table(
    'Behind the damage: not proved, and counted for nothing above',
    ['number', 'when', 'who', 'what'],
    rows,
    [7, 15, 13, 65],
  );
}

function wordsOf(answer: Answer): string {
  return answer.value.kind === 'reading' || answer.value.kind === 'sweep'
    ? readingWords(answer)
    : answerWords(answer);
}

/** The head in full, as words and as a code to scan, how to hold the record against it, and what that proves. */
export function verifySection({ collected, verdict }: HandoverSource): Section {
  const words: Block = { kind: 'words', text: verdict.says };
  const limits: Block = {
    kind: 'words',
    text:
      'The chain shows an altered, removed, swapped or inserted record by its number. It does not show who wrote it, ' +
      'nor that what was written is true. A record written anew from the start is only noticed by whoever holds this head, so keep it: on paper, or in a mail.',
  };
  if (verdict.head === null)
    return { id: 'verify', title: 'How to verify this record', blocks: [words, limits] };
  const [count = '0', digest = ''] = verdict.head.split(':');
  return {
    id: 'verify',
    title: 'How to verify this record',
    blocks: [
      words,
      {
        kind: 'code',
        payload: codeToScan(collected.job, { count: Number(count), digest }),
        lines: [
          ...headToReadOut({ count: Number(count), digest }),
          `loopward verify JOB --head ${verdict.head}`,
        ],
      },
      limits,
    ],
  };
}
