import { computeGrouping, type GroupingResult } from '../grouping/group.ts';
import { computeUnits } from '../grouping/units.ts';
import { computeLifeSafety } from '../life-safety.ts';
import { readField } from '../loops/field.ts';
import type { Plan } from '../plan.ts';
import { heading, paragraph, table } from '../text/layout.ts';

/** What one input more or less would change. */
type GroupingWhatIf = { readonly inputs: number; readonly result: GroupingResult };

/** The best grouping on one input less than the boards have, on all of them, and on one more. */
export function groupingWhatIf(plan: Plan): GroupingWhatIf[] {
  const field = readField(plan.wiring);
  const units = computeUnits(plan.survey, computeLifeSafety(plan.survey, field), field, plan.boards);
  const inputs = plan.boards.reduce((sum, board) => sum + board.inputs.length, 0);
  return [inputs - 1, inputs, inputs + 1]
    .filter((count) => count >= 0)
    .map((count) => ({ inputs: count, result: computeGrouping(units, plan.survey.mayShare, count) }));
}

/** Why these detectors share these inputs, as people read it. */
export function groupingText(plan: Plan, columns: number): string[] {
  const ways = groupingWhatIf(plan);
  const rows = ways.map(({ inputs, result }) => [
    String(inputs),
    result.fewestInputs > inputs ? `too few: ${result.fewestInputs} needed` : `${result.groups.length} used`,
    String(result.loss),
    result.optimal ? 'least there is' : `no less than ${result.bound}`,
    sharedIn(result),
  ]);
  return [
    'grouping',
    ...paragraph(
      'What cannot be parted is a unit: a detector, a set joined in the field, a tamper loop. Units of one zone, one kind of contact and like company may share an input. A group loses the sum of its importance times one less than its size; the grouping loses least with the inputs there are. Ties go to groups that mix fewer places, then to fewer joins parted, then to survey order.',
      columns,
      '  ',
      '  ',
    ),
    ...heading('Inputs more or less', columns),
    ...table([['inputs', 'groups', 'loss', 'proof', 'shared'], ...rows], columns, 4),
  ];
}

function sharedIn({ groups, loss }: GroupingResult): string {
  const shared = groups.filter(({ units }) => units.length > 1);
  const sets = shared.map(({ units }) =>
    units.flatMap(({ detectors, zone }) => (detectors.length > 0 ? detectors : [zone])).join('+'),
  );
  if (sets.length > 0) return sets.join(', ');
  return loss > 0 ? 'only what is joined in the field' : 'none';
}
