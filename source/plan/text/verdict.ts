import { SEVERITIES } from '../findings/findings.ts';
import { listed } from '../findings/words.ts';
import type { Finding, Plan, Severity } from '../plan.ts';
import { withoutInput } from './goes-words.ts';
import { paragraph } from './layout.ts';

const VERDICT = {
  ready: 'READY: these boards take this site.',
  caution: 'CAUTION: these boards take this site; read what follows before you start.',
  blocked: 'BLOCKED: these boards cannot take this site as it stands. No work starts.',
} as const;

const SEVERITY_WORDS: Record<Severity, string> = {
  block: 'Blocks the plan',
  gate: 'Before work, each asked by a step of its own',
  caution: 'Cautions',
  note: 'Notes',
};

/** The verdict in a sentence, and what it rests on, at most `columns` wide. */
export function verdictText(plan: Plan, columns: number): string[] {
  const { site } = plan.survey;
  const boards = plan.boards.map(
    ({ id, name, generic }) => `${id}, ${name}${generic ? ' (an example, not a data sheet)' : ''}`,
  );
  const { inputsUsed, inputsFree } = plan.grouping;
  const lines = [
    `${site.name}${site.reference ? ` (${site.reference})` : ''}`,
    VERDICT[plan.verdict],
    `Boards: ${boards.join('; ') || 'none'}.`,
    `Inputs: ${inputsUsed} used, ${inputsFree} free${lossWords(plan)}.`,
    ...(plan.verdict === 'blocked'
      ? ['What follows shows how far these boards get: nothing of it is to be done.']
      : []),
  ];
  return lines.flatMap((line) => paragraph(line, columns, '', '  '));
}

/** With inputs free nothing shares one that could stand alone: what is lost is joined in the field. */
function lossWords(plan: Plan): string {
  const { loss, inputsFree } = plan.grouping;
  const without = [...withoutInput(plan).values()].flat();
  if (without.length > 0) return `; NONE LEFT for ${listed(without)}`;
  if (plan.circuits.length === 0) return '';
  if (loss === 0) return '; every detector by itself';
  return `; loss by sharing ${loss}${inputsFree > 0 ? ', all of it joined in the field' : ''}`;
}

/** The findings, the gravest first, each with what to do, at most `columns` wide. */
export function findingsText(plan: Plan, columns: number): string[] {
  return SEVERITIES.flatMap((severity) => {
    const mine = plan.findings.filter((finding) => finding.severity === severity);
    if (mine.length === 0) return [];
    const groups = alike(mine);
    const merged = groups.length < mine.length ? ', like ones told together' : '';
    return [
      '',
      `${SEVERITY_WORDS[severity]} (${mine.length}${merged})`,
      ...groups.flatMap((findings) => findingText(findings, columns)),
    ];
  });
}

const MARK: Record<Severity, string> = { block: 'X', gate: '#', caution: '!', note: '-' };

/** What a finding says to do: its message without the sentence of what is so. */
function adviceOf({ message }: Finding): string {
  return message.slice(message.indexOf('. ') + 2);
}

/**
 * Findings of one code that say to do the same are told together: several notes in one sentence, for what is so
 * of the first holds of the others in like manner; cautions and blocks each with their figures. Gates stand alone.
 */
function alike(findings: readonly Finding[]): Finding[][] {
  const groups: Finding[][] = [];
  for (const finding of findings) {
    const like = groups.find(
      ([one]) =>
        one!.severity !== 'gate' && one!.code === finding.code && adviceOf(one!) === adviceOf(finding),
    );
    if (like) like.push(finding);
    else groups.push([finding]);
  }
  return groups;
}

/** From so many on notes of one kind are told in one sentence. */
const MANY_NOTES = 3;

function findingText(findings: readonly Finding[], columns: number): string[] {
  const [first] = findings;
  const mark = `${MARK[first!.severity]} `;
  const head = ({ code, about }: Finding) => paragraph(`${code}: ${about.join(', ')}`, columns, mark, '  ');
  const body = (text: string) => paragraph(text, columns, '    ', '    ');
  if (first!.severity === 'note' && findings.length >= MANY_NOTES) {
    const likewise = findings.slice(1).map(({ about }) => about[0] ?? '');
    return [...head(first!), ...body(`${first!.message} Likewise ${likewise.join(', ')}.`)];
  }
  return findings.flatMap((finding, index) => {
    const isLast = index === findings.length - 1 || first!.severity === 'note';
    const saysOnly = finding.message.slice(0, finding.message.length - adviceOf(finding).length);
    return [
      ...head(finding),
      ...body(isLast ? finding.message : `${saysOnly.trim()} What to do: see the next.`),
    ];
  });
}
