import { formatQuantity } from '../../electrical/quantity-words.ts';
import { entriesOf, lastAnswer } from '../answer-words.ts';
import { nameOfDetector } from '../drawing/strip.ts';
import { type HandoverSource, whenOf } from './source.ts';

/**
 * A field that published record practice asks for. `asks` names the practice, `held` where the record keeps it; a
 * field the record lacks is shown as missing, never left out.
 */
type RecordField = {
  readonly name: string;
  readonly asks: string;
  readonly held: string;
  readonly from: (source: HandoverSource) => string | null;
};

/** An answer of a step; several fields are joined. */
const answered = (name: string, asks: string, step: string, ...fields: readonly string[]): RecordField => ({
  name,
  asks,
  held: `step ${step}: ${fields.join(', ')}`,
  from: ({ collected }) => joined(...fields.map((field) => lastAnswer(collected, step, field))),
});

type Site = NonNullable<HandoverSource['known']['site']>;

const kept = (name: string, asks: string, of: keyof Site): RecordField => ({
  name,
  asks,
  held: `private.json: ${of}`,
  from: ({ known, redacted }) => {
    if (redacted) return '(left out)';
    return known.site === null ? null : known.site[of] || null;
  },
});

const told = (name: string, asks: string, held: string, from: RecordField['from']): RecordField => ({
  name,
  asks,
  held,
  from,
});

/** The same, where it only applies if life safety or an impairment is at stake. */
const where = (
  applies: (source: HandoverSource) => boolean,
  otherwise: string,
  field: RecordField,
): RecordField => ({
  ...field,
  from: (source) => (applies(source) ? field.from(source) : otherwise),
});

const hasLifeSafety = ({ collected }: HandoverSource) =>
  collected.replay.procedure.steps.some((step) => step.id === 'life-safety.decision');

const isImpaired = ({ collected }: HandoverSource) =>
  collected.replay.state.context.branches['life-safety.decision'] === 'impairment';

const isOnTest = ({ collected }: HandoverSource) =>
  entriesOf(collected, 'centre.on-test').length > 0 ||
  lastAnswer(collected, 'centre.monitored', 'centre') === null;

const NOT_SO = 'does not apply';

/** The fields by group; the groups are those of the union of the practices named. */
export const RECORD_FIELDS: Readonly<Record<string, readonly RecordField[]>> = {
  Job: [
    kept('Site', 'UL burglar-alarm certificate: protected property', 'name'),
    kept('Reference', 'CLC/TS 50131-7:2010 Annex G: as-fitted document', 'reference'),
    kept('Address', 'UL burglar-alarm certificate: address', 'address'),
    kept('Owner or contact', 'NFPA 731 ch. 10: who is responsible', 'contact'),
    told(
      'Job',
      '21 CFR 11.10(e): the record names what it is about',
      'record open: job',
      (s) => s.collected.job,
    ),
    told('Opened', 'local permits: date of modification', 'record open: at', (s) =>
      whenOf(s, s.collected.openedAt),
    ),
    told('Last record', 'local permits: date of modification', 'last record: at', (s) =>
      whenOf(s, s.collected.lastAt),
    ),
    answered(
      'Role, and permit',
      'CLC/TS 50131-7: qualified persons; local licensing',
      'survey.scope',
      'role',
      'permit',
    ),
    answered('Plan accepted', 'CLC/TS 50131-7:2010 Annex G: design agreed', 'plan.accept', 'plan'),
  ],
  'Old system': [
    told('Feed', '29 CFR 1910.147(d)(1): know the energy', 'survey: outside.feed', ({ plan }) =>
      plan.survey.outside.feed.replaceAll('-', ' '),
    ),
    told(
      'Standby battery',
      'as-found record: battery, capacity, date',
      'survey: panel.batteries',
      oldBattery,
    ),
    answered('Battery as found', 'as-found record: volts', 'isolate.battery', 'volts'),
    answered('Aux as found', 'as-found record: volts', 'survey.baseline', 'aux'),
    told(
      'Sounders',
      'CLC/TS 50131-7:2010 Annex G: equipment',
      'survey: sounders',
      ({ plan }) => plan.survey.sounders.map((s) => s.name).join(', ') || 'none',
    ),
    told('Signalling', 'UL burglar-alarm certificate: monitoring', 'survey: outside.signalling', ({ plan }) =>
      plan.survey.outside.signalling.replaceAll('-', ' '),
    ),
    answered('Conductors counted', 'as-found record: circuits', 'survey.inside', 'wires'),
    answered('Photographs', 'as-found record: photographs', 'survey.inside', 'photos'),
  ],
  'Life safety': [
    told(
      'Circuits held out',
      'NFPA 731 4.1.2: other codes govern',
      'plan: heldOut',
      ({ plan }) =>
        plan.heldOut.map((held) => nameOfDetector(plan, held.detector)).join(', ') || 'none found',
    ),
    where(
      hasLifeSafety,
      'no life-safety circuit',
      answered('Protection meanwhile', 'NFPA 72: protection or impairment', 'life-safety.decision', 'way'),
    ),
    where(
      (source) => hasLifeSafety(source) && !isImpaired(source),
      NOT_SO,
      answered(
        'Independent protection',
        'NFPA 72: evidence',
        'life-safety.independent',
        'equipment',
        'evidence',
      ),
    ),
    where(
      isImpaired,
      NOT_SO,
      answered(
        'Impairment: who was told',
        'NFPA 72 10.21; IFC 901.7',
        'impairment.open',
        'owner',
        'notified',
      ),
    ),
    where(
      isImpaired,
      NOT_SO,
      answered('Impairment: ended by', 'NFPA 72 10.21: restored', 'impairment.restore', 'by'),
    ),
  ],
  'Receiving centre': [
    answered('Listens', 'monitoring practice: known before work', 'centre.monitored', 'centre'),
    where(
      isOnTest,
      NOT_SO,
      answered(
        'On test',
        'monitoring practice: on test, by whom',
        'centre.on-test',
        'on-test',
        'operator',
        'until',
      ),
    ),
    where(
      isOnTest,
      NOT_SO,
      answered('Reference', 'monitoring practice: reference', 'centre.on-test', 'reference'),
    ),
    answered('Ended', 'monitoring practice: off test or cancelled', 'centre.end', 'end', 'operator'),
  ],
  People: [
    answered('Occupants told', '29 CFR 1910.333(b)(2)(v): people warned', 'notify.occupants', 'who'),
    answered('Unprotected until', 'BS 8243 4.1.1: client and insurer', 'notify.occupants', 'until'),
    answered('Insurer', 'BS 8243 4.1.1: insurer', 'notify.occupants', 'insurer'),
    answered('Neighbours', 'BS 8243 4.1.1: who may hear it', 'notify.occupants', 'neighbours'),
    answered('User shown', 'NFPA 731 ch. 10; local ordinances: user trained', 'handover.user', 'who'),
  ],
  'Close-out': [
    answered(
      'Old battery',
      '40 CFR 273; Regulation (EU) 2023/1542: waste route',
      'handover.battery',
      'battery',
    ),
    answered('Old feed', 'removed items', 'handover.card', 'old-feed'),
    answered('Old board', 'removed items', 'clear.panel', 'board'),
    answered('Enclosure bond', 'NEC 250; BS 7671 411: bonding kept', 'clear.panel', 'bond'),
    answered('Telephone line', 'removed items: what is made through again', 'clear.telephone', 'line'),
    answered('Zone card', 'NFPA 72 7.5: documents left', 'handover.card', 'card'),
    answered(
      'Open points told',
      'CLC/TS 50131-7:2010 11.2: handover checklist',
      'handover.user',
      'open-points',
    ),
  ],
  Provenance: [
    told(
      'Program',
      '21 CFR 11.10: version of the system',
      'record open: version',
      (s) => s.collected.version,
    ),
    told(
      'Plan',
      '21 CFR 11.10(f): the sequence that was in force',
      'records basis: plan',
      (s) => s.collected.replay.basis.planDigest || null,
    ),
    told('Clock', '21 CFR 11.10(e): source of the time stamps', 'records clock', clockWords),
    told(
      'Head of the record',
      '21 CFR 11.10(e): alteration shows',
      'last record: sha256',
      (s) => s.verdict.head,
    ),
  ],
};

/** What is asked for row by row, and the section of the page that tells it. */
export const RECORD_TABLES: readonly {
  readonly name: string;
  readonly asks: string;
  readonly section: string;
}[] = [
  {
    name: 'Deviations: step, what, why, residual risk',
    asks: 'CLC/TS 50131-7:2010 Annex G: deviations; FDA letter M2811N: first values kept',
    section: 'first',
  },
  {
    name: 'Zones: old terminal to new input, contact, resistor',
    asks: 'CLC/TS 50131-7:2010 Annex G: as-fitted document',
    section: 'circuits',
  },
  {
    name: 'Shifts, breaks, instrument, signatures',
    asks: 'CLC/TS 50131-7:2010 11.2: customer signature; 29 CFR 1910.147(f)(4)',
    section: 'job',
  },
  {
    name: 'Each loop at rest and worked, as found to as left',
    asks: 'HK ArchSD testing procedure, part 4: test record',
    section: 'measured',
  },
  {
    name: 'Isolation: source, place, prove, test, prove',
    asks: '29 CFR 1910.333(b)(2)(iv); HSE HSG85',
    section: 'isolation',
  },
  {
    name: 'Power: currents, battery, voltage at each detector, computed beside measured',
    asks: 'NFPA 731: supply calculations',
    section: 'supply',
  },
  {
    name: 'Tests: result, tries, when, who',
    asks: 'CLC/TS 50131-7:2010 10.2: tests recorded; UFGS 28 08 10',
    section: 'tests',
  },
  {
    name: 'Wiring and colours',
    asks: 'CSE, Newcomb & Boyd: ends labelled to match the drawings',
    section: 'wiring',
  },
  { name: 'Every record in order', asks: '21 CFR 11.10(e): audit trail', section: 'log' },
  { name: 'Chain and head', asks: '21 CFR 11.10(e): alteration shows', section: 'verify' },
];

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

function clockWords({ collected }: HandoverSource): string {
  const jumps = collected.remarks.filter((remark) => remark.kind === 'clock').length;
  return `of the computer, zone ${collected.timeZone}${jumps === 0 ? '' : `, set or asleep ${jumps} times`}`;
}

function joined(...parts: readonly (string | null)[]): string | null {
  const said = parts.filter((part) => part !== null);
  return said.length === 0 ? null : said.join(', ');
}
