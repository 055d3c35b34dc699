import { SEVERITIES } from '../findings/findings.ts';
import type { Finding, Plan, Severity } from '../plan.ts';
import { paragraph } from './layout.ts';

const VERDICT = {
  ready: 'READY: these boards take this site.',
  caution: 'CAUTION: these boards take this site; read what follows before you start.',
  blocked: 'BLOCKED: these boards cannot take this site as it stands. No work starts.',
} as const;

export const SEVERITY_WORDS: Record<Severity, string> = {
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
  const { inputsUsed, inputsFree, loss } = plan.grouping;
  const lines = [
    `${site.name}${site.reference ? ` (${site.reference})` : ''}`,
    VERDICT[plan.verdict],
    `Boards: ${boards.join('; ') || 'none'}.`,
    `Inputs: ${inputsUsed} used, ${inputsFree} free${loss > 0 ? `; loss by sharing ${loss}` : '; every unit by itself'}.`,
  ];
  return lines.flatMap((line) => paragraph(line, columns, '', '  '));
}

export function findingsText(plan: Plan, columns: number): string[] {
  return SEVERITIES.flatMap((severity) => {
    const mine = plan.findings.filter((finding) => finding.severity === severity);
    if (mine.length === 0) return [];
    return [
      '',
      `${SEVERITY_WORDS[severity]} (${mine.length})`,
      ...mine.flatMap((finding) => findingText(finding, columns)),
    ];
  });
}

const MARK: Record<Severity, string> = { block: 'X', gate: '#', caution: '!', note: '-' };

function findingText({ code, severity, about, message }: Finding, columns: number): string[] {
  return [
    ...paragraph(`${code}: ${about.join(', ')}`, columns, `${MARK[severity]} `, '  '),
    ...paragraph(message, columns, '    ', '    '),
  ];
}
