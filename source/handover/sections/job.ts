import type { Block, Fact, Section } from '../document.ts';
import { RECORD_FIELDS } from './record-fields.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';
import { table } from './table.ts';

/** The asked-for fields, group by group, and who worked, when, with which instrument. */
export function jobSection(source: HandoverSource): Section {
  const groups = Object.entries(RECORD_FIELDS).map(
    ([group, fields]): Block => ({
      kind: 'facts',
      caption: group,
      facts: fields.map((field): Fact => ({ name: field.name, value: field.from(source) })),
    }),
  );
  return { id: 'job', title: 'The job', blocks: [...groups, ...shifts(source), ...signatures(source)] };
}

function shifts(source: HandoverSource): Block[] {
  const rows = source.collected.remarks
    .filter((remark) => remark.did === 'start-shift' || remark.kind === 'interrupted')
    .map((remark) => [
      remark.text,
      nameOf(source, remark.by),
      whenOf(source, remark.at),
      { records: [remark.n] },
    ]);
  return table('Shifts and breaks', ['what', 'by', 'when', 'record'], rows, [48, 16, 26, 10]);
}

function signatures(source: HandoverSource): Block[] {
  const closing = source.collected.remarks.find((remark) => remark.did === 'close');
  const signed = Array.isArray(closing?.data.signatures) ? closing.data.signatures : [];
  const rows = signed.flatMap((one) => {
    const { person, role } = one as { person?: string; role?: string };
    return person === undefined ? [] : [[nameOf(source, person), role ?? '', '']];
  });
  if (rows.length === 0) return [{ kind: 'facts', facts: [{ name: 'Signatures', value: null }] }];
  return table('Signed', ['name', 'role', 'signature'], rows, [35, 25, 40]);
}
