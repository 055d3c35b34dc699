import { ohms as ohmsWords } from '../../plan/findings/words.ts';
import type { Plan } from '../../plan/plan.ts';
import { answerWords, entriesOf, foundWords, readingWords, windowWords } from '../answer-words.ts';
import { resistorsLeft } from '../as-left/circuits.ts';
import { reportsWords, sayResistor } from '../as-left/words.ts';
import type { Answer, Entry } from '../collect.ts';
import type { Block, Cell, Section } from '../document.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';
import { table } from './table.ts';

const STATES: Readonly<Record<string, string>> = {
  found: 'as found',
  lifted: 'lifted',
  'resistor-out': 'resistor work done',
  split: 'by itself',
  landed: 'on its new input',
};

const COLUMNS = ['state', 'reading of', 'found', 'expected', 'by and when', 'record'];
const WIDTHS = [12, 28, 14, 20, 17, 9];

/** Every reading of every loop, in the order of the work, its window beside it and drawn. */
export function measuredSection(source: HandoverSource): Section {
  const { plan, collected } = source;
  const rows = collected.entries.flatMap((entry) =>
    entry.answers
      .filter((answer) => answer.value.kind === 'reading' && answer.value.unit === 'ohm')
      .map((answer) => ({ entry, answer, point: pointOf(plan, answer) })),
  );
  const zones = [
    ...plan.survey.zones,
    ...plan.survey.tampers.map((t) => ({ id: t.id, name: `Tamper loop ${t.id}` })),
  ];
  const isOf = (zone: string, { entry, point }: (typeof rows)[number]) =>
    point === null ? entry.step?.about.includes(zone) === true : point.zone === zone;
  const told = ({ entry, answer, point }: (typeof rows)[number]): Cell[] => [
    point === null ? entry.title : (STATES[point.phase] ?? point.phase),
    answer.label,
    ...foundAndExpected(answer),
    `${nameOf(source, entry.by)}, ${whenOf(source, entry.at)}`,
    { records: [entry.n] },
  ];
  const of = zones.map((zone) => ({ zone, rows: rows.filter((row) => isOf(zone.id, row)) }));
  const others = rows.filter((row) => !of.some((one) => one.rows.includes(row)));
  return {
    id: 'measured',
    title: 'Loops: what was read before, between and after',
    blocks: [
      ...of.flatMap((one) => table(`${one.zone.name} (${one.zone.id})`, COLUMNS, one.rows.map(told), WIDTHS)),
      ...table(
        'Other readings in ohms',
        ['step', ...COLUMNS.slice(1)],
        others.map(told),
        [24, 20, 12, 18, 17, 9],
      ),
    ],
  };
}

/** What was found, and beside it what was expected, in words and drawn. */
export function foundAndExpected(answer: Answer): [Cell, Cell] {
  const expected = windowWords(answer.value);
  const found = foundWords(answer);
  return [found, { reading: answer.value, says: expected, found }];
}

/** The measuring point of the plan that was read, or null. */
function pointOf(plan: Plan, { proof }: Answer): Plan['points'][number] | null {
  const point = proof?.kind === 'reading' ? proof.point : null;
  return point === null ? null : (plan.points.find((one) => one.id === point) ?? null);
}

/** Each source off, and each proof of dead with the instrument's own proof before and after it. */
export function isolationSection(source: HandoverSource): Section {
  const { collected } = source;
  const proofs = collected.entries.filter(
    (entry) => entry.step?.effect === 'prove' || entry.step?.effect === 'prove-short',
  );
  const offs = collected.entries.filter(
    (entry) => entry.step?.effect === 'isolate' || entry.stepId.startsWith('isolate.'),
  );
  const instrument = (n: number) =>
    collected.remarks.findLast((remark) => remark.n < n && remark.did === 'start-shift')?.data.instrument;
  const proofRows = proofs.map((entry): Cell[] => [
    entry.title,
    entry.answers.map((answer) => `${answer.label}: ${readingWords(answer)}`).join('; '),
    source.redacted ? '(left out)' : String(instrument(entry.n) ?? ''),
    `${nameOf(source, entry.by)}, ${whenOf(source, entry.at)}`,
    { records: [entry.n] },
  ]);
  const offRows = offs.map((entry): Cell[] => [
    entry.title,
    entry.answers.map((answer) => `${answer.label}: ${answerWords(answer)}`).join('; '),
    `${nameOf(source, entry.by)}, ${whenOf(source, entry.at)}`,
    { records: [entry.n] },
  ]);
  return {
    id: 'isolation',
    title: 'Isolation: what was switched off, and dead as it was proved',
    blocks: [
      ...table('Sources taken off', ['step', 'found', 'by and when', 'record'], offRows, [22, 50, 18, 10]),
      ...table(
        'Proofs of dead: known source, rails and conductors, known source again',
        ['proof', 'readings', 'instrument', 'by and when', 'record'],
        proofRows,
        [16, 46, 12, 17, 9],
      ),
    ],
  };
}

/** What is so of each is said once of all. */
function together(outcomes: readonly string[]): string {
  const [first] = outcomes;
  const isOne = outcomes.length > 1 && outcomes.every((outcome) => outcome === first);
  return isOne ? `all ${first}` : outcomes.join(', ');
}

/** The new inputs as they are left: what hangs on each and how its walk test went. */
export function circuitsSection(source: HandoverSource): Section {
  const { plan, collected } = source;
  const rows = plan.circuits.map((circuit): Cell[] => {
    const walked = circuit.detectors.map((id) => walkOf(collected.entries, id));
    const resistors = resistorCell(source, circuit);
    const records = [...walked.flatMap((entry) => (entry === null ? [] : [entry.n])), ...resistors.records];
    return [
      `${circuit.board} ${circuit.input}`,
      `${circuit.terminal} / ${circuit.common}`,
      reportsWords(source, circuit, `tamper loop ${circuit.fromZone}`),
      circuit.contact.replaceAll('-', ' '),
      resistors.says,
      together(walked.map(walkWords)),
      { records: [...new Set(records)].sort((a, b) => a - b) },
    ];
  });
  return {
    id: 'circuits',
    title: 'What reports where',
    blocks: table(
      'Inputs of the new boards',
      ['input', 'terminals', 'detectors', 'contact', 'resistor', 'walk test', 'record'],
      rows,
      [8, 11, 30, 14, 16, 12, 9],
    ),
  };
}

function walkOf(entries: readonly Entry[], detector: string): Entry | null {
  return entries.findLast((entry) => entry.stepId === `walk.${detector}`) ?? null;
}

function resistorWords({ work, ohms, newOhms }: Plan['circuits'][number]['resistor']): string {
  const figure = (value: number | null) => (value === null ? '' : ` ${ohmsWords(value)}`);
  if (work === 'none') return 'none';
  if (work === 'fit') return `fitted${figure(newOhms)}`;
  if (work === 'replace') return `replaced${figure(ohms)} by${figure(newOhms)}`;
  return `${work === 'keep' ? 'kept' : 'removed'}${figure(ohms)}`;
}

/** What is not tested says so in so many words: a step that was given up is no test. */
function walkWords(entry: Entry | null): string {
  if (entry === null) return 'not walked';
  return entry.did === 'deviate' ? 'NOT TESTED, given up' : entry.outcome;
}

/** The resistors of an input's zones as they stand, with the records; as planned where acts were not recorded. */
function resistorCell(
  { plan, left }: HandoverSource,
  { resistor, resistors }: Plan['circuits'][number],
): { readonly says: string; readonly records: readonly number[] } {
  if (left === null) return { says: resistorWords(resistor), records: [] };
  const all = Object.keys(resistors).flatMap((zone) => resistorsLeft(plan, zone, left));
  const records = all.flatMap(({ record }) => (record === null ? [] : [record]));
  const says = [...new Set(all.map(sayResistor))].join('; ');
  return { says: says === '' ? 'none' : says, records };
}

/** Walk test, sounder, mains failure: result, attempts, who and when. */
export function testsSection(source: HandoverSource): Section {
  const tested = [
    ...new Set(source.collected.entries.filter((e) => e.stage === 'walk-test').map((e) => e.stepId)),
  ];
  const rows = tested.map((step): Cell[] => {
    const tries = entriesOf(source.collected, step).filter((entry) => entry.stepId === step);
    const last = tries.at(-1)!;
    return [
      last.title,
      last.did === 'deviate' ? 'deviated from' : last.outcome,
      last.answers.map((answer) => `${answer.label}: ${answerWords(answer)}`).join('; '),
      String(tries.length),
      `${nameOf(source, last.by)}, ${whenOf(source, last.at)}`,
      { records: tries.map((entry) => entry.n) },
    ];
  });
  const blocks: Block[] = table(
    'Tests',
    ['test', 'result', 'observed', 'tries', 'by and when', 'records'],
    rows,
    [22, 10, 35, 7, 17, 9],
  );
  return {
    id: 'tests',
    title: 'Walk test and tests on battery',
    blocks: blocks.length > 0 ? blocks : [{ kind: 'words', text: 'No test has been recorded yet.' }],
  };
}
