import { neededAmpHours, STANDBY_PRESETS } from '../../electrical/battery.ts';
import { FINDING_CODES, type FindingCode } from '../finding-codes.ts';
import { ampHours, hours } from '../findings/words.ts';
import type { Plan } from '../plan.ts';
import { heading, paragraph, table } from '../text/layout.ts';
import { figureName, figureWords } from '../text/words.ts';
import { groupingText } from './grouping-text.ts';
import { LOOP_REASONS } from './loop-reasons.ts';
import type { Reason } from './reason.ts';
import { SITE_REASONS } from './site-reasons.ts';
import { SUPPLY_REASONS } from './supply-reasons.ts';

export const REASONS: Readonly<Record<FindingCode, Reason>> = {
  ...SITE_REASONS,
  ...SUPPLY_REASONS,
  ...LOOP_REASONS,
};

/** What `--explain` takes: a finding's code, or `grouping`. */
export function isExplainable(topic: string): topic is FindingCode | 'grouping' {
  return topic === 'grouping' || FINDING_CODES.some((code) => code === topic);
}

/** The reasoning behind a finding with its source, and the findings of that code in this plan. */
export function explain(plan: Plan, topic: FindingCode | 'grouping', columns: number): string {
  if (topic === 'grouping') return groupingText(plan, columns).join('\n');
  const { why, rule, source } = REASONS[topic];
  const mine = plan.findings.filter(({ code }) => code === topic);
  return [
    topic,
    ...paragraph(why, columns, '  ', '  '),
    ...paragraph(`Rule: ${rule}`, columns, '  ', '    '),
    ...paragraph(`Source: ${source}`, columns, '  ', '    '),
    ...(topic === 'battery-too-small' || topic === 'no-battery' ? presetsText(plan, columns) : []),
    ...heading(mine.length === 0 ? 'Not in this plan' : 'In this plan', columns),
    ...mine.flatMap(({ severity, about, message, figures }) => [
      ...paragraph(`${severity}: ${about.join(', ')}`, columns, '', '  '),
      ...paragraph(message, columns, '  ', '  '),
      ...Object.entries(figures).flatMap(([name, value]) =>
        paragraph(`${figureName(name)}: ${figureWords(name, value)}`, columns, '    ', '      '),
      ),
    ]),
  ].join('\n');
}

/** How long a system should last by whose rule, and what each board's battery would need for it. */
function presetsText(plan: Plan, columns: number): string[] {
  const rows = STANDBY_PRESETS.map(({ id, holdUpHours, alarmHours, margin, source }) => {
    const needed = plan.supply.map(({ board, standbyAmps, alarmAmps }) => {
      const celsius = plan.survey.conditions.batteryCelsius;
      const needed = neededAmpHours({ standbyAmps, holdUpHours, alarmAmps, alarmHours, margin, celsius });
      return `${board} ${ampHours(needed)}`;
    });
    return [id, hours(holdUpHours), needed.join(', '), source];
  });
  return [...heading('Standby by whose rule', columns), ...table(rows, columns, 3)];
}
