import type { Board } from '../../site/board.ts';
import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { ampHours, hours, volts } from './words.ts';

/** A battery must be back at 80 % of its capacity within a day: DIN VDE 0833. */
const RECHARGE = { share: 0.8, withinHours: 24 } as const;

/** Does the system live through a mains failure, and is it ready for the next one. */
export function batteryFindings(facts: Facts): Finding[] {
  return [...facts.boards.flatMap((board) => boardFindings(facts, board)), ...networkFindings(facts)];
}

function boardFindings({ survey, supply }: Facts, board: Board): Finding[] {
  const battery = supply.find((one) => one.board === board.id)!.battery;
  const { holdUpHours: wanted } = survey.policy;
  if (board.battery === null || battery === null)
    return [
      finding(
        'no-battery',
        'caution',
        [board.id],
        `${board.id} has no battery: it is blind from the moment the mains fails.`,
        `Feed its adapter from a supply that lasts ${hours(wanted)}, or choose a board with a battery.`,
        { wantedHours: wanted },
      ),
    ];
  const found: Finding[] = [];
  const { capacityAmpHours, floatVolts } = board.battery;
  const { requiredAmpHours, chosenAmpHours, holdUpHours, rechargeHours } = battery;
  if (requiredAmpHours > capacityAmpHours)
    found.push(
      finding(
        'battery-too-small',
        'caution',
        [board.id],
        `${hours(wanted)} of standby and an alarm need ${ampHours(requiredAmpHours)}, and the battery of ${board.id} has ${ampHours(capacityAmpHours)}.`,
        `Fit ${ampHours(chosenAmpHours)} if the board may charge so much, or accept ${hours(holdUpHours)}.`,
        { requiredAmpHours, capacityAmpHours, chosenAmpHours, holdUpHours },
      ),
    );
  const adapterVolts = board.adapter.volts * (1 - board.adapter.tolerance);
  if (adapterVolts < floatVolts)
    found.push(
      finding(
        'battery-never-charged',
        'caution',
        [board.id],
        `The battery of ${board.id} floats at ${volts(floatVolts)}, and its adapter gives ${volts(adapterVolts)} at its least: it never fills.`,
        `Bring an adapter of ${volts(floatVolts)} or more that the board accepts (it takes up to ${volts(board.supply.accepts.toVolts)}).`,
        { adapterVolts, floatVolts },
      ),
    );
  if (rechargeHours * RECHARGE.share > RECHARGE.withinHours)
    found.push(
      finding(
        'recharge-too-slow',
        'caution',
        [board.id],
        `After a long mains failure ${board.id} needs ${hours(rechargeHours * RECHARGE.share)} to fill its battery to 80 %.`,
        `A day is usual: fit a smaller battery if it suffices (${ampHours(chosenAmpHours)}), or a board that charges faster.`,
        { rechargeHours, to80PercentHours: rechargeHours * RECHARGE.share },
      ),
    );
  return found;
}

function networkFindings({ survey, boards }: Facts): Finding[] {
  const { backupHours } = survey.network;
  const wanted = survey.policy.holdUpHours;
  if (boards.length === 0 || (typeof backupHours === 'number' && backupHours >= wanted)) return [];
  const known = typeof backupHours === 'number';
  const says = known
    ? `The network equipment lasts ${hours(backupHours)} without mains, the board ${hours(wanted)}.`
    : backupHours === 'none'
      ? 'The network equipment has no supply of its own: when the mains fails nothing is reported, however full the battery.'
      : 'Nobody knows whether the network equipment runs on when the mains fails.';
  return [
    finding(
      'network-without-backup',
      'caution',
      ['network'],
      says,
      `Put router and switch on a supply that lasts ${hours(wanted)}, and test with them off as well.`,
      { wantedHours: wanted, ...(known ? { backupHours } : {}) },
    ),
  ];
}
