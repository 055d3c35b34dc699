import { formatQuantity } from '../../electrical/quantity-words.ts';
import { spanWords } from '../../electrical/window-words.ts';
import { listed } from '../findings/words.ts';
import type { BoardSupply, Plan } from '../plan.ts';
import { sparedVolts } from '../supply/board-supply.ts';
import { bar, heading, paragraph, table } from './layout.ts';

/** Every load against its limit as a bar, and the volts that arrive. */
export function supplyText(plan: Plan, columns: number): string[] {
  return [
    ...heading('Supply', columns),
    ...plan.supply.flatMap((supply) => boardText(plan, supply, columns)),
  ];
}

function boardText(plan: Plan, supply: BoardSupply, columns: number): string[] {
  const board = plan.boards.find(({ id }) => id === supply.board)!;
  const width = Math.max(10, Math.min(32, columns - 48));
  const row = (what: string, value: number, limit: number, words: string) =>
    `${supply.board} ${what.padEnd(9)}${bar(value, limit, width)} ${words}`;
  const amps = (value: number, limit: number) =>
    `${formatQuantity(value, 'amps')} of ${formatQuantity(limit, 'amps')}`;
  const lines = [
    row('aux', supply.auxAmps, board.aux.amps, amps(supply.auxAmps, board.aux.amps)),
    row(
      'supply',
      supply.alarmAmps,
      supply.limitAmps,
      `${amps(supply.alarmAmps, supply.limitAmps)}, in alarm`,
    ),
  ];
  if (board.sounder)
    lines.push(
      row(
        'sounder',
        supply.sounderAmps,
        board.sounder.amps,
        `${amps(supply.sounderAmps, board.sounder.amps)}${unknownSounders(plan, supply.board)}`,
      ),
    );
  if (supply.battery && board.battery) {
    const { requiredAmpHours, holdUpHours, rechargeHours } = supply.battery;
    const words = `${formatQuantity(requiredAmpHours, 'ampHours')} of ${formatQuantity(board.battery.capacityAmpHours, 'ampHours')}`;
    lines.push(
      row('battery', requiredAmpHours, board.battery.capacityAmpHours, words),
      ...paragraph(
        `Needed for ${plan.survey.policy.holdUpHours} h standby at ${formatQuantity(supply.standbyAmps, 'amps')} and an alarm. The battery there holds up ${hoursWords(holdUpHours)} and refills in ${hoursWords(rechargeHours)}.`,
        columns,
        '   ',
        '   ',
      ),
    );
  } else lines.push(`${supply.board} battery   none`);
  return [...lines, ...devicesText(supply, columns)];
}

/** A sounder whose current nobody knows is reckoned with nothing, and the bar must not hide that. */
function unknownSounders({ survey, connections }: Plan, board: string): string {
  const here = new Set(
    connections
      .filter(({ to }) => 'board' in to && to.board === board)
      .map((one) => one.conductor.split('/')[0]),
  );
  const ids = survey.sounders
    .filter(({ currentAmps, cable }) => currentAmps === null && here.has(cable))
    .map(({ id }) => id);
  return ids.length === 0 ? '' : `, ${listed(ids)} unknown`;
}

function devicesText({ devices, firstToFail }: BoardSupply, columns: number): string[] {
  if (devices.length === 0) return [];
  const volts = (value: number) => formatQuantity(value, 'volts');
  const rows = devices.map((device) => [
    `  ${device.id}`,
    volts(device.mainsVolts),
    volts(device.batteryEndVolts),
    volts(device.highestVolts),
    spanWords(device.minimumVolts, device.maximumVolts, 'volts'),
    assumedWords(device.assumed),
  ]);
  const first = devices.find(({ id }) => id === firstToFail)!;
  const spare = sparedVolts(first);
  return [
    ...table([['  detector', 'mains', 'battery end', 'highest', 'needs', ''], ...rows], columns, 5),
    ...paragraph(
      `${first.id} fails first: ${volts(Math.abs(spare))} ${spare < 0 ? 'short' : 'to spare'}.`,
      columns,
      '   ',
      '   ',
    ),
  ];
}

/** `c7.length` and `d2.supply.alarm` as `assumes c7 length, d2 supply`. */
function assumedWords(assumed: readonly string[]): string {
  const words = assumed.map((path) => path.split('.').slice(0, 2).join(' '));
  return words.length === 0 ? '' : `assumes ${[...new Set(words)].join(', ')}`;
}

function hoursWords(hours: number): string {
  return Number.isFinite(hours) ? `${Number(hours.toPrecision(2))} h` : 'no end';
}
