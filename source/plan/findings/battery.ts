import { isOver, isUnder } from '../../electrical/limit.ts';
import type { Board } from '../../site/board.ts';
import type { Finding } from '../plan.ts';
import { adapterVolts } from '../supply/adapter.ts';
import { type Facts, finding } from './facts.ts';
import { adapterAdvice } from './supply.ts';
import { ampHours, amps, beyondWords, hours, volts } from './words.ts';

/** A battery must be back at 80 % of its capacity within a day: DIN VDE 0833. */
const RECHARGE = { share: 0.8, withinHours: 24 } as const;

/** A sealed lead-acid battery stands about a quarter of its capacity an hour: trade pages, no standard. */
const CHARGE_SHARE = 0.25;

/** Does the system live through a mains failure, and is it ready for the next one. */
export function batteryFindings(facts: Facts): Finding[] {
  return [...facts.boards.flatMap((board) => boardFindings(facts, board)), ...networkFindings(facts)];
}

function boardFindings({ survey, supply, feeds }: Facts, board: Board): Finding[] {
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
  const feed = feeds.find((one) => one.board === board)!;
  const { capacityAmpHours, floatVolts, chargeAmps } = board.battery;
  const { requiredAmpHours, chosenAmpHours, holdUpHours, rechargeHours } = battery;
  if (isOver(requiredAmpHours, capacityAmpHours))
    found.push(
      finding(
        'battery-too-small',
        'caution',
        [board.id],
        `The battery of ${board.id} has ${ampHours(capacityAmpHours)}, and ${hours(wanted)} of standby and an alarm need ${beyondWords(requiredAmpHours, capacityAmpHours, 'ampHours')}.`,
        `Fit ${ampHours(chosenAmpHours)} if the board may charge so much, or accept ${hours(holdUpHours)}.`,
        { requiredAmpHours, capacityAmpHours, chosenAmpHours, holdUpHours },
      ),
    );
  const { floatLeast } = adapterVolts(survey, feed);
  const advice = adapterAdvice(survey, feed);
  if (isUnder(floatLeast, floatVolts))
    found.push(
      finding(
        'battery-never-charged',
        'caution',
        [board.id, ...(board.adapter.lead === null ? [] : [board.adapter.lead])],
        `The battery of ${board.id} floats at ${volts(floatVolts)}, and its adapter brings ${beyondWords(floatLeast, floatVolts, 'volts')} to the board at its least: it never fills.`,
        advice.says,
        { adapterVolts: floatLeast, floatVolts, ...advice.figures },
      ),
    );
  else if (isOver(rechargeHours * RECHARGE.share, RECHARGE.withinHours))
    found.push(
      finding(
        'recharge-too-slow',
        'caution',
        [board.id],
        `After a long mains failure ${board.id} needs ${hours(rechargeHours * RECHARGE.share)} to fill its battery to 80 %.`,
        `A day is usual: ${isUnder(chosenAmpHours, capacityAmpHours) ? `fit a smaller battery (${ampHours(chosenAmpHours)} suffices)` : 'a smaller battery would not last'}, or a board that charges faster.`,
        { rechargeHours, to80PercentHours: rechargeHours * RECHARGE.share },
      ),
    );
  const mostChargeAmps = capacityAmpHours * CHARGE_SHARE;
  if (isOver(chargeAmps, mostChargeAmps))
    found.push(
      finding(
        'charge-too-fast',
        'caution',
        [board.id],
        `${board.id} charges with ${beyondWords(chargeAmps, mostChargeAmps, 'amps')}, and a sealed battery of ${ampHours(capacityAmpHours)} stands about ${amps(mostChargeAmps)}.`,
        'Fit a larger battery, or set the charger lower where it can be set.',
        { chargeAmps, mostChargeAmps, capacityAmpHours },
      ),
    );
  return found;
}

function networkFindings({ survey, boards }: Facts): Finding[] {
  const { backupHours } = survey.network;
  const wanted = survey.policy.holdUpHours;
  if (boards.length === 0 || (typeof backupHours === 'number' && !isUnder(backupHours, wanted))) return [];
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
