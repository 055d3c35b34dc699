import { SEVERITIES } from '../findings/findings.ts';
import type { Finding, Plan, Severity } from '../plan.ts';
import { paragraph } from './layout.ts';

const VERDICT = {
  ready: 'READY: these boards take this site.',
  caution: 'CAUTION: these boards take this site; read what follows before you start.',
  blocked: 'BLOCKED: these boards cannot take this site as it stands. No work starts.',
} as const;

const SEVERITY_WORDS: Record<Severity, string> = {
  block: 'Blocks the plan',
  gate: 'Stops the work at a gate of its own',
  caution: 'Cautions',
  note: 'Notes',
};

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
  ];
  return lines.flatMap((line) => paragraph(line, columns, '', '  '));
}

/** With inputs free nothing shares one that could stand alone: what is lost is joined in the field. */
function lossWords({ grouping: { loss, inputsFree } }: Plan): string {
  if (loss === 0) return '; every detector by itself';
  return `; loss by sharing ${loss}${inputsFree > 0 ? ', all of it joined in the field' : ''}`;
}

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

/** Several notes of one code that say to do the same are told once: what is so of the first holds of the others in like manner. */
function alike(findings: readonly Finding[]): Finding[][] {
  const groups: Finding[][] = [];
  for (const finding of findings) {
    const like = groups.find(
      ([one]) =>
        one!.severity === 'note' && one!.code === finding.code && adviceOf(one!) === adviceOf(finding),
    );
    if (like) like.push(finding);
    else groups.push([finding]);
  }
  return groups.flatMap((group) => (group.length > LONGEST_APART ? [group] : group.map((one) => [one])));
}

const LONGEST_APART = 2;

function findingText([first, ...others]: readonly Finding[], columns: number): string[] {
  const { code, severity, about, message } = first!;
  const likewise = others.map((other) => other.about[0] ?? '');
  const more = likewise.length === 0 ? '' : ` Likewise ${likewise.join(', ')}.`;
  return [
    ...paragraph(`${code}: ${about.join(', ')}`, columns, `${MARK[severity]} `, '  '),
    ...paragraph(`${message}${more}`, columns, '    ', '    '),
  ];
}
