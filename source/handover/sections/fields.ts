import { formatQuantity } from '../../electrical/quantity-words.ts';
import { entriesOf, lastAnswer } from '../answer-words.ts';
import type { Block, Fact, Section } from '../document.ts';
import { table } from './first.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';

/**
 * A field that published record practice asks for, and where the record holds it. `asks` names the practice;
 * a field the record lacks is shown as missing, never left out.
 */
export type RecordField = {
  readonly name: string;
  readonly asks: string;
  readonly from: (source: HandoverSource) => string | null;
};

const answer =
  (step: string, field: string): RecordField['from'] =>
  ({ collected }) =>
    lastAnswer(collected, step, field);

const private_ =
  (of: (site: NonNullable<HandoverSource['known']['site']>) => string | undefined): RecordField['from'] =>
  ({ known, redacted }) =>
    redacted ? '(left out)' : known.site === null ? null : of(known.site) || null;

/** The fields by group; the groups are those of the union of the practices named. */
export const RECORD_FIELDS: Readonly<Record<string, readonly RecordField[]>> = {
  Job: [
    { name: 'Site', asks: 'UL burglar-alarm certificate: protected property', from: private_((s) => s.name) },
    {
      name: 'Reference',
      asks: 'CLC/TS 50131-7:2010 Annex G: as-fitted document',
      from: private_((s) => s.reference),
    },
    { name: 'Address', asks: 'UL burglar-alarm certificate: address', from: private_((s) => s.address) },
    {
      name: 'Owner or contact',
      asks: 'NFPA 731 ch. 10: who is responsible',
      from: private_((s) => s.contact),
    },
    {
      name: 'Job',
      asks: '21 CFR 11.10(e): the record names what it is about',
      from: ({ collected }) => collected.job,
    },
    {
      name: 'Opened',
      asks: 'local permits: date of modification',
      from: (s) => whenOf(s, s.collected.openedAt),
    },
    {
      name: 'Last record',
      asks: 'local permits: date of modification',
      from: (s) => whenOf(s, s.collected.lastAt),
    },
    {
      name: 'Role, and permit',
      asks: 'CLC/TS 50131-7: qualified persons; local licensing',
      from: (s) => joined(answer('survey.scope', 'role')(s), answer('survey.scope', 'permit')(s)),
    },
  ],
  'Old system': [
    {
      name: 'Feed',
      asks: '29 CFR 1910.147(d)(1): know the energy',
      from: ({ plan }) => plan.survey.outside.feed.replaceAll('-', ' '),
    },
    { name: 'Standby battery', asks: 'as-found record: battery, capacity, date', from: oldBattery },
    { name: 'Battery as found', asks: 'as-found record: volts', from: answer('isolate.battery', 'volts') },
    { name: 'Aux as found', asks: 'as-found record: volts', from: answer('survey.baseline', 'aux') },
    {
      name: 'Sounders',
      asks: 'CLC/TS 50131-7 Annex G: equipment',
      from: ({ plan }) => plan.survey.sounders.map((s) => s.name).join(', ') || 'none',
    },
    {
      name: 'Signalling',
      asks: 'UL burglar-alarm certificate: monitoring',
      from: ({ plan }) => plan.survey.outside.signalling,
    },
    { name: 'Photographs', asks: 'as-found record: photographs', from: answer('survey.inside', 'photos') },
  ],
  'Life safety': [
    {
      name: 'Circuits held out',
      asks: 'NFPA 731 4.1.2: other codes govern',
      from: ({ plan }) =>
        plan.heldOut
          .map((h) => plan.survey.detectors.find((d) => d.id === h.detector)?.name ?? h.detector)
          .join(', ') || 'none found',
    },
    {
      name: 'Protection meanwhile',
      asks: 'NFPA 72: protection or impairment',
      from: (s) => (hasLifeSafety(s) ? answer('life-safety.decision', 'way')(s) : 'no life-safety circuit'),
    },
    {
      name: 'Independent protection',
      asks: 'NFPA 72: evidence',
      from: (s) =>
        impaired(s) || !hasLifeSafety(s)
          ? 'does not apply'
          : joined(
              answer('life-safety.independent', 'equipment')(s),
              answer('life-safety.independent', 'evidence')(s),
            ),
    },
    {
      name: 'Impairment: who was told',
      asks: 'NFPA 72 10.21; IFC 901.7',
      from: (s) =>
        impaired(s)
          ? joined(answer('impairment.open', 'owner')(s), answer('impairment.open', 'notified')(s))
          : 'does not apply',
    },
    {
      name: 'Impairment: ended by',
      asks: 'NFPA 72 10.21: restored',
      from: (s) => (impaired(s) ? answer('impairment.restore', 'by')(s) : 'does not apply'),
    },
  ],
  'Receiving centre': [
    {
      name: 'Listens',
      asks: 'monitoring practice: known before work',
      from: answer('centre.monitored', 'centre'),
    },
    {
      name: 'On test',
      asks: 'monitoring practice: on test, by whom',
      from: (s) => whereOnTest(s, ['on-test', 'operator', 'until']),
    },
    { name: 'Reference', asks: 'monitoring practice: reference', from: (s) => whereOnTest(s, ['reference']) },
    { name: 'Ended', asks: 'monitoring practice: off test or cancelled', from: answer('centre.end', 'end') },
  ],
  People: [
    {
      name: 'Occupants told',
      asks: '29 CFR 1910.333(b)(2)(v): people warned',
      from: answer('notify.occupants', 'who'),
    },
    {
      name: 'Unprotected until',
      asks: 'BS 8243 4.1.1: client and insurer',
      from: answer('notify.occupants', 'until'),
    },
    { name: 'Insurer', asks: 'BS 8243 4.1.1: insurer', from: answer('notify.occupants', 'insurer') },
    {
      name: 'User shown',
      asks: 'NFPA 731 ch. 10; local ordinances: user trained',
      from: answer('handover.user', 'who'),
    },
  ],
  'Close-out': [
    {
      name: 'Old battery',
      asks: '40 CFR 273; Regulation (EU) 2023/1542: waste route',
      from: answer('handover.battery', 'battery'),
    },
    { name: 'Old feed', asks: 'removed items', from: answer('handover.card', 'old-feed') },
    {
      name: 'Enclosure bond',
      asks: 'NEC 250; BS 7671 411: bonding kept',
      from: answer('clear.panel', 'bond'),
    },
    { name: 'Zone card', asks: 'NFPA 72 7.5: documents left', from: answer('handover.card', 'card') },
    {
      name: 'Program',
      asks: '21 CFR 11.10: version of the system',
      from: ({ collected }) => collected.version,
    },
    {
      name: 'Head of the record',
      asks: '21 CFR 11.10(e): alteration shows',
      from: ({ verdict }) => verdict.head,
    },
  ],
};

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
  return table('Shifts and breaks', ['what', 'by', 'when', 'record'], rows);
}

function signatures(source: HandoverSource): Block[] {
  const closing = source.collected.remarks.find((remark) => remark.did === 'close');
  const signed = Array.isArray(closing?.data.signatures) ? closing.data.signatures : [];
  const rows = signed.flatMap((one) => {
    const { person, role } = one as { person?: string; role?: string };
    return person === undefined ? [] : [[nameOf(source, person), role ?? '', '']];
  });
  if (rows.length === 0) return [{ kind: 'facts', facts: [{ name: 'Signatures', value: null }] }];
  return table('Signed', ['name', 'role', 'signature'], rows);
}

function whereOnTest(source: HandoverSource, fields: readonly string[]): string | null {
  const asked = entriesOf(source.collected, 'centre.on-test').length > 0;
  if (!asked && lastAnswer(source.collected, 'centre.monitored', 'centre') !== null) return 'does not apply';
  return joined(...fields.map((field) => lastAnswer(source.collected, 'centre.on-test', field)));
}

function oldBattery({ plan }: HandoverSource): string | null {
  const fitted = plan.survey.panel.batteries.map(({ capacityAmpHours, chemistry, installed }) =>
    [
      capacityAmpHours === null ? null : formatQuantity(capacityAmpHours, 'ampHours'),
      chemistry.replaceAll('-', ' '),
      installed,
    ]
      .filter((part) => part !== null)
      .join(', '),
  );
  return fitted.join('; ') || 'none found';
}

const hasLifeSafety = ({ collected }: HandoverSource) =>
  collected.replay.procedure.steps.some((step) => step.id === 'life-safety.decision');

const impaired = ({ collected }: HandoverSource) =>
  collected.replay.state.context.branches['life-safety.decision'] === 'impairment';

function joined(...parts: readonly (string | null)[]): string | null {
  const said = parts.filter((part) => part !== null);
  return said.length === 0 ? null : said.join(', ');
}
