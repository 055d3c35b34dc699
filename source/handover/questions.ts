import { placeWords } from '../job/difference-words.ts';
import { lookUp, touchesWiring } from '../procedure/lookup.ts';
import { sourceBegins } from '../procedure/source-name.ts';
import { readingWords } from './answer-words.ts';
import { resistorsLeft } from './as-left/circuits.ts';
import { powerLeft } from './as-left/power.ts';
import { sayResistor } from './as-left/words.ts';
import type { Collected, Entry } from './collect.ts';
import { servesWords } from './drawing/strip.ts';
import { type HandoverSource, nameOf, whenOf } from './sections/source.ts';

/** One line of an answer, with the numbers of the records it rests on. */
type Answered = { readonly says: string; readonly records: readonly number[] };

/** A question that is asked later, when something does not work and somebody must say why. */
export type Question = {
  readonly name: string;
  readonly asks: string;
  readonly answer: (source: HandoverSource, zone: string | null) => readonly Answered[];
};

const OHM_STAGES = new Set(['measure', 'resistors', 'split', 'rewire']);

/** The questions a record answers, each from the records alone. */
export const QUESTIONS: readonly Question[] = [
  {
    name: 'readings',
    asks: 'What did each zone read before and after?',
    answer: (source, zone) =>
      passed(source.collected)
        .filter((entry) => OHM_STAGES.has(entry.stage ?? '') && isAbout(entry, zone))
        .flatMap((entry) =>
          entry.answers
            .filter((answer) => answer.value.kind === 'reading' && answer.value.unit === 'ohm')
            .map((answer) => ({
              says: `${answer.label}: ${readingWords(answer)}, ${byWhen(source, entry)}`,
              records: [entry.n],
            })),
        ),
  },
  {
    name: 'resistors',
    asks: 'Which resistor is out, in or fitted, and who made it so?',
    answer: resistors,
  },
  {
    name: 'connections',
    asks: 'Where is each wire, and who put it there?',
    answer: connections,
  },
  {
    name: 'live',
    asks: 'What is live, and what is off?',
    answer: (source) =>
      powerLeft(source).map(({ source: from, stands, record }) => ({
        says: `${sourceBegins(from)}: ${stands}${byRecord(source, record)}`,
        records: record === null ? [] : [record],
      })),
  },
  {
    name: 'adapter',
    asks: 'Was the adapter measured before it met the board?',
    answer: adapterFirst,
  },
  {
    name: 'power-off',
    asks: 'Was power off, and proved off, when wires were touched?',
    answer: powerOff,
  },
  {
    name: 'deviations',
    asks: 'What was deviated from, and at whose risk?',
    answer: (source, zone) =>
      source.collected.entries
        .filter((entry) => entry.did === 'deviate' && isAbout(entry, zone))
        .map((entry) => ({
          says: `${entry.title}: ${entry.reason ?? ''}; residual risk: ${entry.residualRisk ?? ''}, ${byWhen(source, entry)}`,
          records: [entry.n],
        })),
  },
  {
    name: 'failures',
    asks: 'What failed, and what was found instead?',
    answer: (source, zone) =>
      source.collected.entries
        .filter((entry) => entry.outcome === 'failed' && isAbout(entry, zone))
        .map((entry) => ({
          says: `${entry.title}: ${entry.reason ?? entry.answers.map((a) => `${a.label}: ${readingWords(a)}`).join('; ')}, ${byWhen(source, entry)}`,
          records: [entry.n],
        })),
  },
  {
    name: 'walk-test',
    asks: 'Was every detector seen to work by itself?',
    answer: (source, zone) =>
      source.collected.entries
        .filter((entry) => entry.stage === 'walk-test' && isAbout(entry, zone))
        .map((entry) => ({
          says: `${entry.title}: ${entry.did === 'deviate' ? 'deviated from' : entry.outcome}, ${byWhen(source, entry)}`,
          records: [entry.n],
        })),
  },
];

function passed({ entries }: Collected): Entry[] {
  return entries.filter((entry) => entry.did === 'confirm' && entry.outcome !== 'failed');
}

function isAbout(entry: Entry, zone: string | null): boolean {
  return zone === null || entry.step?.about.includes(zone) === true;
}

/** Each resistor as it stands; where acts were not recorded, the steps that were about one. */
function resistors(source: HandoverSource, zone: string | null): Answered[] {
  const { plan, left, collected } = source;
  if (left === null)
    return passed(collected)
      .filter((entry) => entry.step?.acts.some((act) => act.do.endsWith('-resistor')) && isAbout(entry, zone))
      .map((entry) => ({ says: `${entry.title}, ${byWhen(source, entry)}`, records: [entry.n] }));
  return plan.zones
    .filter(({ id }) => zone === null || id === zone)
    .flatMap(({ id }) =>
      resistorsLeft(plan, id, left).map((one) => ({
        says: `${nameOfZone(source, id)}: ${sayResistor(one)}${byRecord(source, one.record)}`,
        records: one.record === null ? [] : [one.record],
      })),
    );
}

/** Each wire with an end at the panel, where it is as left. */
function connections(source: HandoverSource, zone: string | null): Answered[] {
  const { plan, left } = source;
  if (left === null) return [];
  return left.wiring.conductors
    .filter(
      ({ atPanel, zone: own, for: served, cable }) =>
        atPanel && (zone === null || [own, served, cable].includes(zone)),
    )
    .map((one) => {
      const record = left.by[one.id] ?? null;
      const serves = servesWords(plan, one);
      return {
        says: `${one.colour} of ${one.cable} (${one.id})${serves === '' ? '' : `, ${serves}`}: ${placeWords(one.near)}${byRecord(source, record)}`,
        records: record === null ? [] : [record],
      };
    });
}

function nameOfZone({ plan }: HandoverSource, id: string): string {
  return plan.survey.zones.find((zone) => zone.id === id)?.name ?? id;
}

function byRecord(source: HandoverSource, record: number | null): string {
  const entry = source.collected.entries.find(({ n }) => n === record);
  return entry === undefined ? '' : `, ${byWhen(source, entry)}`;
}

function byWhen(source: HandoverSource, entry: Entry): string {
  return `by ${nameOf(source, entry.by)}, ${whenOf(source, entry.at)}`;
}

function adapterFirst(source: HandoverSource): Answered[] {
  const done = passed(source.collected);
  const meets = (entry: Entry) =>
    entry.step?.acts.some((act) => act.do === 'connect-source' && act.source.startsWith('adapter:')) ===
      true || entry.stepId.startsWith('prepare.bench.');
  return source.plan.boards.map((board) => {
    const measured = done.find((entry) => entry.stepId === `prepare.adapter.${board.id}`);
    const met = done.find((entry) => meets(entry) && isAbout(entry, board.id));
    if (measured === undefined) {
      const n = met === undefined ? [] : [met.n];
      return { says: `${board.id}: no reading of its adapter is on record.`, records: n };
    }
    const found = measured.answers.map((answer) => `${answer.label}: ${readingWords(answer)}`).join('; ');
    const order =
      met === undefined
        ? 'and it has not met the board since'
        : measured.n < met.n
          ? `before it met the board (#${met.n})`
          : `AFTER it met the board (#${met.n})`;
    return {
      says: `${board.id}: measured ${order}, ${byWhen(source, measured)}. ${found}`,
      records: met === undefined ? [measured.n] : [measured.n, met.n],
    };
  });
}

function powerOff(source: HandoverSource, zone: string | null): Answered[] {
  const { collected } = source;
  const steps = lookUp(collected.replay.procedure).steps;
  const proofs = passed(collected).filter(
    ({ step }) => step?.effect === 'prove' || step?.effect === 'prove-short',
  );
  return passed(collected)
    .filter((entry) => isAbout(entry, zone))
    .filter((entry) => touchesWiring(entry.step ?? steps.get(entry.stepId) ?? NOTHING))
    .map((entry) => {
      const proof = proofs.findLast((one) => one.n < entry.n);
      const state = entry.supply === 'dead' ? 'dead' : `"${entry.supply}"`;
      const proved = proof === undefined ? 'never proved before' : `last proved at #${proof.n}`;
      return {
        says: `${entry.title}: supply ${state}, ${proved}, ${byWhen(source, entry)}`,
        records: proof === undefined ? [entry.n] : [proof.n, entry.n],
      };
    });
}

const NOTHING = { acts: [] } as unknown as NonNullable<Entry['step']>;
