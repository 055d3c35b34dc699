import { spanWords } from '../../electrical/window-words.ts';
import { volts } from '../findings/words.ts';
import type { BoardSupply, Plan } from '../plan.ts';
import { sparedVolts } from '../supply/board-supply.ts';
import { bar, heading, paragraph, table } from './layout.ts';
import { arrivingWords, batteryWords, type LoadRow, loadRows } from './supply-words.ts';

/** Every load against its limit as a bar, and the volts that arrive. */
export function supplyText(plan: Plan, columns: number): string[] {
  return [
    ...heading('Supply', columns),
    ...plan.supply.flatMap((supply) => boardText(plan, supply, columns)),
  ];
}

const TITLES: Readonly<Record<LoadRow['what'], string>> = {
  standby: 'standby',
  alarm: 'in alarm',
  aux: 'aux',
  sounder: 'sounder',
  battery: 'battery',
};

function boardText(plan: Plan, supply: BoardSupply, columns: number): string[] {
  const width = Math.max(10, Math.min(32, columns - 48));
  const says = batteryWords(plan, supply);
  return [
    ...loadRows(plan, supply).map(
      ({ what, value, limit, words }) =>
        `${supply.board} ${TITLES[what].padEnd(9)}${bar(value, limit, width)} ${words}`,
    ),
    ...(says === '' ? [`${supply.board} battery  none`] : paragraph(says, columns, '   ', '   ')),
    ...devicesText(supply, columns),
    ...soundersText(supply, columns),
  ];
}

function devicesText({ devices, firstToFail }: BoardSupply, columns: number): string[] {
  if (devices.length === 0) return [];
  const rows = devices.map((device) => {
    const { mains, batteryEnd, worst } = arrivingWords(device);
    const span = spanWords(device.minimumVolts, device.maximumVolts, 'volts');
    return [
      `  ${device.id}`,
      mains,
      batteryEnd,
      worst,
      volts(device.highestVolts),
      span,
      assumedWords(device.assumed),
    ];
  });
  const first = devices.find(({ id }) => id === firstToFail)!;
  const spare = sparedVolts(first);
  return [
    ...table([['  detector', 'mains', 'battery end', 'worst', 'highest', 'needs', ''], ...rows], columns, 6),
    ...paragraph(
      `${first.id} fails first: ${volts(Math.abs(spare))} ${spare < 0 ? 'short' : 'to spare'}.`,
      columns,
      '   ',
      '   ',
    ),
  ];
}

/** What arrives at the sounders while all of them ring. */
function soundersText({ sounders }: BoardSupply, columns: number): string[] {
  if (sounders.length === 0) return [];
  const rows = sounders.map((sounder) => {
    const { mains, batteryEnd, worst, needs } = arrivingWords(sounder);
    return [`  ${sounder.id}`, mains, batteryEnd, worst, needs];
  });
  return table([['  sounder', 'mains', 'battery end', 'worst', 'needs'], ...rows], columns, 0);
}

/** `c7.length` and `d2.supply.alarm` as `assumes c7 length, d2 supply`. */
function assumedWords(assumed: readonly string[]): string {
  const words = assumed.map((path) => path.split('.').slice(0, 2).join(' '));
  return words.length === 0 ? '' : `assumes ${[...new Set(words)].join(', ')}`;
}
