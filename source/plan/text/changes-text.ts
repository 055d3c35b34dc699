import { formatQuantity } from '../../electrical/quantity-words.ts';
import type { BoardFit } from '../compare-boards.ts';
import type { PlanChange } from '../diff-plans.ts';
import { heading, paragraph, table } from './layout.ts';

const OF: Record<PlanChange['of'], string> = {
  verdict: 'Verdict',
  finding: 'Findings',
  circuit: 'Inputs',
  connection: 'Conductors',
  supply: 'Supply',
  parts: 'Parts',
};

/** What a change does to the plan, before and after. */
export function changesToText(changes: readonly PlanChange[], columns: number): string {
  if (changes.length === 0) return 'The change leaves the plan as it is.';
  const kinds = [...new Set(changes.map(({ of }) => of))];
  const lines = kinds.flatMap((kind) => [
    ...heading(OF[kind], columns),
    ...changes
      .filter(({ of }) => of === kind)
      .flatMap(({ about, before, after }) => [
        about,
        ...(before === null ? [] : paragraph(before, columns, '  - ', '    ')),
        ...(after === null ? [] : paragraph(after, columns, '  + ', '    ')),
      ]),
  ]);
  const verdict = changes.some(({ of }) => of === 'verdict') ? '' : ' The verdict stays as it was.';
  return [
    ...paragraph(`What the change changes: - as it was, + as it becomes.${verdict}`, columns, '', ''),
    ...lines,
  ].join('\n');
}

/** Boards side by side: what is left of each limit, and what stands against each. */
export function comparisonToText(fits: readonly BoardFit[], columns: number): string {
  const amps = (value: number) => formatQuantity(value, 'amps');
  const rows = fits.map((fit) => [
    fit.board,
    fit.verdict,
    `${fit.inputsUsed}+${fit.inputsFree}`,
    String(fit.loss),
    amps(fit.auxMarginAmps),
    amps(fit.supplyMarginAmps),
    fit.voltsMargin === null ? '-' : formatQuantity(fit.voltsMargin, 'volts'),
    fit.batteryMarginAmpHours === null ? 'none' : formatQuantity(fit.batteryMarginAmpHours, 'ampHours'),
  ]);
  const head = ['board', 'verdict', 'used+free', 'loss', 'aux', 'supply', 'volts', 'battery'];
  return [
    'Each board by itself.',
    ...table([head, ...rows], columns, 1),
    ...paragraph(
      'Used+free: inputs. Loss: what sharing inputs costs, by importance; 0 is every detector by itself. Aux, supply, volts (at the weakest detector), battery: what is left of the limit, below zero it is exceeded.',
      columns,
      '',
      '',
    ),
    ...fits.flatMap(({ board, name, blocks, cautions }) =>
      paragraph(
        `${name}. Blocks: ${blocks.join(', ') || 'nothing'}. Cautions: ${cautions.join(', ') || 'none'}.`,
        columns,
        `${board}: `,
        '  ',
      ),
    ),
  ].join('\n');
}
