import type { Plan } from '../../plan/plan.ts';
import { answerWords, entriesOf, readingWords } from '../answer-words.ts';
import type { Answer, Entry } from '../collect.ts';
import type { Block, Cell, Section } from '../document.ts';
import { table } from './first.ts';
import { type HandoverSource, nameOf, whenOf } from './source.ts';

const STATES: Readonly<Record<string, string>> = {
  survey: 'as found',
  measure: 'lifted',
  resistors: 'resistor work done',
  split: 'by itself',
  rewire: 'on its new input',
};

/** Every reading of every loop, in the order of the work, its window beside it and drawn. */
export function measuredSection(source: HandoverSource): Section {
  const { plan, collected } = source;
  const rows = collected.entries
    .filter((entry) => entry.stage !== null && entry.stage in STATES)
    .flatMap((entry) =>
      entry.answers
        .filter((answer) => answer.value.kind === 'reading' && answer.value.unit === 'ohm')
        .map((answer) => ({ entry, answer, zone: zoneOf(plan, entry, answer) })),
    );
  const zones = [
    ...plan.survey.zones,
    ...plan.survey.tampers.map((t) => ({ id: t.id, name: `Tamper loop ${t.id}` })),
  ];
  const blocks = zones.flatMap((zone) =>
    table(
      `${zone.name} (${zone.id})`,
      ['state', 'reading of', 'found', 'by', 'when', 'record'],
      rows
        .filter((row) => row.zone === zone.id)
        .map(({ entry, answer }): Cell[] => [
          STATES[entry.stage ?? ''] ?? '',
          answer.label,
          { reading: answer.value, says: readingWords(answer) },
          nameOf(source, entry.by),
          whenOf(source, entry.at),
          { records: [entry.n] },
        ]),
    ),
  );
  const others = rows.filter((row) => !zones.some((zone) => zone.id === row.zone));
  return {
    id: 'measured',
    title: 'Loops: what was read before, between and after',
    blocks: [
      ...blocks,
      ...table(
        'Other readings in ohms',
        ['step', 'reading of', 'found', 'record'],
        others.map(({ entry, answer }): Cell[] => [
          entry.title,
          answer.label,
          { reading: answer.value, says: readingWords(answer) },
          { records: [entry.n] },
        ]),
      ),
    ],
  };
}

/** The zone a reading is of: the measuring point names it, else the step is about one. */
function zoneOf(plan: Plan, entry: Entry, answer: Answer): string | null {
  const point = answer.proof?.kind === 'reading' ? answer.proof.point : null;
  const known = point === null ? undefined : plan.points.find((one) => one.id === point);
  if (known !== undefined) return known.zone;
  const zones = new Set([...plan.survey.zones.map((z) => z.id), ...plan.survey.tampers.map((t) => t.id)]);
  return entry.step?.about.find((id) => zones.has(id)) ?? null;
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
      ...table('Sources taken off', ['step', 'found', 'by and when', 'record'], offRows),
      ...table(
        'Proofs of dead: known source, rails and conductors, known source again',
        ['proof', 'readings', 'instrument', 'by and when', 'record'],
        proofRows,
      ),
    ],
  };
}

/** The new inputs as they are left: what hangs on each and how its walk test went. */
export function circuitsSection(source: HandoverSource): Section {
  const { plan, collected } = source;
  const name = (id: string) => plan.survey.detectors.find((d) => d.id === id)?.name ?? id;
  const rows = plan.circuits.map((circuit): Cell[] => {
    const walked = circuit.detectors.map((id) => walkOf(collected.entries, id));
    const records = walked.flatMap((entry) => (entry === null ? [] : [entry.n]));
    return [
      `${circuit.board} ${circuit.input}`,
      `${circuit.terminal} / ${circuit.common}`,
      circuit.purpose === 'tamper'
        ? `tamper loop ${circuit.fromZone}`
        : circuit.detectors.map(name).join(' + '),
      circuit.contact.replaceAll('-', ' '),
      resistorWords(circuit.resistor),
      walked.map((entry) => (entry === null ? 'not walked' : entry.outcome)).join(', '),
      { records },
    ];
  });
  return {
    id: 'circuits',
    title: 'What reports where',
    blocks: table(
      'Inputs of the new boards',
      ['input', 'terminals', 'detectors', 'contact at rest', 'resistor', 'walk test', 'record'],
      rows,
    ),
  };
}

function walkOf(entries: readonly Entry[], detector: string): Entry | null {
  return entries.findLast((entry) => entry.stepId === `walk.${detector}`) ?? null;
}

function resistorWords({ work, ohms, newOhms }: Plan['circuits'][number]['resistor']): string {
  const figure = (value: number | null) => (value === null ? '' : ` ${value} Ω`);
  if (work === 'none') return 'none';
  if (work === 'fit') return `fitted${figure(newOhms)}`;
  if (work === 'replace') return `replaced${figure(ohms)} by${figure(newOhms)}`;
  return `${work === 'keep' ? 'kept' : 'removed'}${figure(ohms)}`;
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
    ['test', 'result', 'observed', 'attempts', 'by and when', 'records'],
    rows,
  );
  return {
    id: 'tests',
    title: 'Walk test and tests on battery',
    blocks: blocks.length > 0 ? blocks : [{ kind: 'words', text: 'No test has been recorded yet.' }],
  };
}
