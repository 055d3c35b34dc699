import type { Plan } from '../plan.ts';
import { heading, paragraph } from './layout.ts';
import { spelled } from './words.ts';

/** What settles an assumption, by the last part of its field. */
const SETTLED_BY: Readonly<Record<string, string>> = {
  length: 'short the far end and read the pair, or read the marks on the sheath',
  conductor: 'read the sheath, or gauge a bare strand',
  standby: 'read the data label, or measure it once powered',
  alarm: 'read the data label, or measure it once powered',
  minimum: 'read the data label',
  maximum: 'read the data label',
  warmUp: 'read the data sheet, or wait until it stops alarming',
  resistor: 'read its colours, or measure the loop',
  alarmResistor: 'read its colours, or measure the loop',
  resistorAt: 'look at the panel first, then at the detectors',
  contact: 'read the loop at rest and worked',
  place: 'look where it is',
  cableTemperature: 'measure where the cables run',
  batteryTemperature: 'measure where the battery stands',
};

/** What stands in for a fact nobody has found out, and how it is found out. */
export function assumedText({ assumed }: Plan, columns: number): string[] {
  if (assumed.length === 0) return [];
  const fields = new Map<string, string[]>();
  const screws = assumed.filter(({ about, field }) => about === 'panel' && field.startsWith('terminals.'));
  for (const { about, field, value } of assumed.filter((one) => !screws.includes(one))) {
    const here = fields.get(field) ?? [];
    fields.set(field, here);
    here.push(about === 'conditions' ? value : `${about} ${value}`);
  }
  const lines = [...fields].map(([field, entries]) => {
    const how = SETTLED_BY[field.split('.').at(-1) ?? ''];
    return `${spelled(field.replaceAll('.', ' '))}: ${entries.join(', ')}${how === undefined ? '' : ` (${how})`}.`;
  });
  return [
    ...heading('Assumed until measured', columns),
    ...screwsText(screws, columns),
    ...lines.flatMap((line) => paragraph(line, columns, '', '  ')),
  ];
}

/** Screws that the survey does not list have the role that their wires give them. */
function screwsText(screws: Plan['assumed'], columns: number): string[] {
  if (screws.length === 0) return [];
  const byRole = new Map<string, string[]>();
  for (const { field, value } of screws)
    byRole.set(value, [...(byRole.get(value) ?? []), field.slice('terminals.'.length)]);
  const words = [...byRole].map(([role, numbers]) => `${role} ${numbers.join(' ')}`);
  return paragraph(
    `old screws, by their wires: ${words.join('; ')} (read the diagram in the door).`,
    columns,
    '',
    '  ',
  );
}
