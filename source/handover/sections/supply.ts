import { spanWords } from '../../electrical/window-words.ts';
import { ampHours, hours, volts } from '../../plan/findings/words.ts';
import type { BoardSupply, DeviceSupply } from '../../plan/plan.ts';
import { deviceReading } from '../../plan/supply/readings.ts';
import { arrivingWords, type LoadRow, loadRows, refillWords } from '../../plan/text/supply-words.ts';
import type { Answer, Entry } from '../collect.ts';
import { type Block, type Cell, MISSING, type Section } from '../document.ts';
import { nameOfDetector } from '../drawing/strip.ts';
import { supplyRuns } from '../drawing/supply-run.ts';
import { foundAndExpected } from './measured.ts';
import type { HandoverSource } from './source.ts';
import { table } from './table.ts';

type Read = { readonly entry: Entry; readonly answer: Answer };

/** Supply figures as computed, and beside each what was measured. */
export function supplySection(source: HandoverSource): Section {
  const reads = readsOf(source);
  const blocks = source.plan.supply.flatMap((supply) => {
    const own = reads.filter(({ entry, answer }) => boardOf(source, entry, answer) === supply.board);
    const runs = supplyRuns(source.plan).filter(({ board }) => board === supply.board);
    return [
      ...boardTable(source, supply, own),
      ...devicesTable(source, supply, own),
      ...soundersTable(supply),
      ...(runs.length === 0 ? [] : [{ kind: 'runs', board: supply.board, runs } satisfies Block]),
    ];
  });
  const others = reads.filter(({ entry, answer }) => boardOf(source, entry, answer) === null);
  return {
    id: 'supply',
    title: 'Supply: computed beside measured',
    blocks: [...blocks, ...table('Other readings', COLUMNS, others.map(measuredRow), WIDTHS)],
  };
}

const STAGES = new Set(['prepare', 'power-up', 'walk-test']);
const COLUMNS = ['what', 'computed', 'measured', 'record'];
const WIDTHS = [40, 30, 20, 10];

function readsOf({ collected }: HandoverSource): Read[] {
  return collected.entries
    .filter((entry) => STAGES.has(entry.stage ?? ''))
    .flatMap((entry) => entry.answers.map((answer) => ({ entry, answer })))
    .filter(
      ({ answer: { value } }) => value.kind === 'reading' && (value.unit === 'V' || value.unit === 'A'),
    );
}

/** The board a reading is of: its step is about one, or its field names one of several. */
function boardOf({ plan }: HandoverSource, entry: Entry, { field }: Answer): string | null {
  const ids = plan.boards.map(({ id }) => id);
  const named = ids.filter((id) => field.endsWith(`-${id}`) || entry.stepId.endsWith(`.${id}`));
  const about = named.length > 0 ? named : ids.filter((id) => entry.step?.about.includes(id));
  return about.length === 1 ? about[0]! : null;
}

const LOADS: Readonly<Record<LoadRow['what'], string>> = {
  standby: 'Current, standby',
  alarm: 'Current in alarm',
  aux: 'Aux in alarm',
  sounder: 'Sounder',
  battery: 'Battery: needed, of what is fitted',
};

function boardTable({ plan }: HandoverSource, supply: BoardSupply, reads: readonly Read[]): Block[] {
  const { battery, devices } = supply;
  const figures: [string, string][] = [
    ...loadRows(plan, supply).map(({ what, words }): [string, string] => [LOADS[what], words]),
    ...(battery === null
      ? ([['Battery', 'none']] as [string, string][])
      : ([
          ['Battery, next size up', ampHours(battery.chosenAmpHours)],
          ['Hold-up', hours(battery.holdUpHours)],
          ['Recharge', refillWords(battery)],
        ] as [string, string][])),
  ];
  const own = reads.filter(({ answer }) => !devices.some(({ id }) => id === answer.field));
  const rows = [
    ...own.map(measuredRow),
    ...figures.map(([what, computed]): Cell[] => [what, computed, MISSING, { records: [] }]),
  ];
  return table(`${supply.board}: adapter, aux, battery and load`, COLUMNS, rows, WIDTHS);
}

function measuredRow({ entry, answer }: Read): Cell[] {
  const [found, expected] = foundAndExpected(answer);
  return [`${answer.label}. ${entry.title}`, expected, found, { records: [entry.n] }];
}

function devicesTable(source: HandoverSource, supply: BoardSupply, reads: readonly Read[]): Block[] {
  return table(
    `${supply.board}: voltage at each powered detector`,
    [
      'detector',
      'minimum',
      'battery end',
      'worst',
      'mains',
      'highest',
      'computed for the day',
      'measured',
      'record',
    ],
    supply.devices.map((device) => deviceRow(source, supply.board, device, reads)),
    [18, 9, 9, 9, 9, 9, 18, 10, 9],
  );
}

function soundersTable(supply: BoardSupply): Block[] {
  return table(
    `${supply.board}: voltage at each sounder, all of them ringing`,
    ['sounder', 'minimum', 'battery end', 'worst', 'mains'],
    supply.sounders.map((sounder): Cell[] => {
      const { mains, batteryEnd, worst, needs } = arrivingWords(sounder);
      return [sounder.id, needs, batteryEnd, worst, mains];
    }),
    [40, 15, 15, 15, 15],
  );
}

function deviceRow(
  { plan }: HandoverSource,
  board: string,
  device: DeviceSupply,
  reads: readonly Read[],
): Cell[] {
  const read = reads.findLast(({ answer }) => answer.field === device.id);
  const taken = device.assumed.map((field) => field.replace(`${device.id}.supply.`, ''));
  const assumed = taken.length === 0 ? '' : ` (assumed: ${taken.join(', ')})`;
  const today = deviceReading(plan, board, device.id);
  const { mains, batteryEnd, worst, needs } = arrivingWords(device);
  const [found, expected]: Cell[] =
    read === undefined
      ? [MISSING, today === null ? '' : spanWords(today.min, today.max, 'volts')]
      : foundAndExpected(read.answer);
  return [
    `${nameOfDetector(plan, device.id)}${assumed}`,
    needs,
    batteryEnd,
    worst,
    mains,
    volts(device.highestVolts),
    expected!,
    found!,
    { records: read === undefined ? [] : [read.entry.n] },
  ];
}
