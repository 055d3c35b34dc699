import { isOver, isUnder } from '../../electrical/limit.ts';
import { ampHours, amps, hours, leastVolts, listed, volts } from '../findings/words.ts';
import type { BoardSupply, DeviceSupply, Plan } from '../plan.ts';

/**
 * A load of a board beside its own limit. Screen, printed plan and handover take value, limit and words from here,
 * so that none of them can say another figure.
 */
export type LoadRow = {
  readonly what: 'standby' | 'alarm' | 'aux' | 'sounder' | 'battery';
  readonly value: number;
  readonly limit: number;
  /** `825 mA of 1 A`. */
  readonly words: string;
  readonly isOver: boolean;
};

/** Every load of a board: standby and alarm against its supply, aux and sounders each against their output. */
export function loadRows(plan: Plan, supply: BoardSupply): LoadRow[] {
  const board = plan.boards.find(({ id }) => id === supply.board)!;
  const row = (
    what: LoadRow['what'],
    value: number,
    limit: number,
    words: (figure: number) => string,
    note = '',
  ): LoadRow => ({
    what,
    value,
    limit,
    words: `${words(value)} of ${words(limit)}${note}`,
    isOver: isOver(value, limit),
  });
  return [
    row('standby', supply.standbyAmps, supply.limitAmps, amps),
    row('alarm', supply.alarmAmps, supply.limitAmps, amps),
    row('aux', supply.auxAmps, board.aux.amps, amps),
    ...(board.sounder
      ? [row('sounder', supply.sounderAmps, board.sounder.amps, amps, unknownSounders(plan, supply))]
      : []),
    ...(supply.battery && board.battery
      ? [row('battery', supply.battery.requiredAmpHours, board.battery.capacityAmpHours, ampHours)]
      : []),
  ];
}

/** A sounder whose current nobody knows is reckoned with nothing, and the row must not hide that. */
function unknownSounders({ survey }: Plan, { sounders }: BoardSupply): string {
  const here = new Set(sounders.map(({ id }) => id));
  const ids = survey.sounders
    .filter(({ id, currentAmps }) => currentAmps === null && here.has(id))
    .map(({ id }) => id);
  return ids.length === 0 ? '' : `, ${listed(ids)} unknown`;
}

/** What the battery that is fitted does, and what would do where it does not: nothing without a battery. */
export function batteryWords({ survey, boards }: Plan, supply: BoardSupply): string {
  const fitted = boards.find(({ id }) => id === supply.board)!.battery;
  if (!supply.battery || !fitted) return '';
  const { requiredAmpHours, chosenAmpHours, holdUpHours } = supply.battery;
  const enough = isOver(requiredAmpHours, fitted.capacityAmpHours)
    ? ` Too small: take ${ampHours(chosenAmpHours)}.`
    : '';
  return `Needed for ${hours(survey.policy.holdUpHours)} standby at ${amps(supply.standbyAmps)} and an alarm.${enough} The battery there holds up ${hours(holdUpHours)} and ${Number.isFinite(supply.battery.rechargeHours) ? 'refills in ' : ''}${refillWords(supply.battery)}.`;
}

/** How long an empty battery takes to fill. */
export function refillWords({ rechargeHours }: NonNullable<BoardSupply['battery']>): string {
  return Number.isFinite(rechargeHours) ? hours(rechargeHours) : 'never fills';
}

/** What arrives at a detector or sounder, in the same words everywhere. */
export function arrivingWords(
  device: Pick<DeviceSupply, 'mainsVolts' | 'batteryEndVolts' | 'worstVolts' | 'minimumVolts'>,
) {
  const { mainsVolts, batteryEndVolts, worstVolts, minimumVolts } = device;
  return {
    mains: volts(mainsVolts),
    batteryEnd: volts(batteryEndVolts),
    worst: leastVolts(worstVolts),
    needs: volts(minimumVolts),
    isLow: isUnder(Math.min(mainsVolts, batteryEndVolts), minimumVolts),
    isLowAtWorst: isUnder(worstVolts, minimumVolts),
  };
}
