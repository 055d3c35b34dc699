import { chosenAmpHours, holdUpHours, rechargeHours, requiredAmpHours } from '../../electrical/battery.ts';
import type { Survey } from '../../site/survey.ts';
import type { BoardSupply, DeviceSupply } from '../plan.ts';
import { cablesToPanel } from './cable-ohms.ts';
import { computeDeviceVolts } from './device-volts.ts';
import { type BoardFeed, limitAmps, type PoweredDetector, sounderAmps } from './feeds.ts';

/** What a board must carry and how long, and what arrives at each of its detectors. */
export function computeBoardSupply(survey: Survey, feed: BoardFeed): BoardSupply {
  const { board, detectors, sounders } = feed;
  const sum = <T>(of: readonly T[], amps: (one: T) => number) =>
    of.reduce((total, one) => total + amps(one), 0);
  const most = ({ supply }: PoweredDetector) => Math.max(supply.standbyAmps, supply.alarmAmps);
  const holdOffAmps = sum(sounders, (sounder) => sounder.holdOffAmps ?? 0);
  const ringing = sum(sounders, sounderAmps);
  const standbyAmps = board.own.standbyAmps + sum(detectors, (d) => d.supply.standbyAmps) + holdOffAmps;
  const alarmAmps = board.own.standbyAmps + sum(detectors, most) + ringing;
  const devices = computeDevices(survey, feed);
  return {
    board: board.id,
    standbyAmps,
    alarmAmps,
    auxAmps: sum(detectors, most) + holdOffAmps,
    sounderAmps: ringing,
    limitAmps: limitAmps(board),
    devices,
    firstToFail: leastSpared(devices)?.id ?? null,
    battery: board.battery && {
      ...sizeBattery(survey, standbyAmps, alarmAmps),
      holdUpHours: holdUpHours({
        capacityAmpHours: board.battery.capacityAmpHours,
        amps: standbyAmps,
        celsius: survey.conditions.batteryCelsius,
      }),
      rechargeHours: rechargeHours(board.battery.capacityAmpHours, board.battery.chargeAmps),
    },
  };
}

function sizeBattery(survey: Survey, standbyAmps: number, alarmAmps: number) {
  const { holdUpHours: hours, alarmHours, batteryMargin } = survey.policy;
  const required = requiredAmpHours({
    standbyAmps,
    holdUpHours: hours,
    alarmAmps,
    alarmHours,
    margin: batteryMargin,
    celsius: survey.conditions.batteryCelsius,
  });
  return { requiredAmpHours: required, chosenAmpHours: chosenAmpHours(required) };
}

/** The device with the least between what arrives and what it needs, on mains or at the end of the battery. */
export function leastSpared(devices: readonly DeviceSupply[]): DeviceSupply | undefined {
  return [...devices].sort((a, b) => sparedVolts(a) - sparedVolts(b))[0];
}

/**
 * What a device gets more than it needs, on mains or at the end of the battery, whichever is less.
 *
 * @example sparedVolts({mainsVolts: 13.2, batteryEndVolts: 10.1, minimumVolts: 9.5}) // => 0.6
 */
export function sparedVolts({ mainsVolts, batteryEndVolts, minimumVolts }: DeviceSupply): number {
  return Math.min(mainsVolts, batteryEndVolts) - minimumVolts;
}

function computeDevices(survey: Survey, feed: BoardFeed): DeviceSupply[] {
  const mains = computeDeviceVolts(survey, feed, 'mains');
  const batteryEnd = computeDeviceVolts(survey, feed, 'batteryEnd');
  const highest = computeDeviceVolts(survey, feed, 'highest');
  const now = computeDeviceVolts(survey, feed, 'now');
  return feed.detectors.map((detector) => ({
    id: detector.id,
    minimumVolts: detector.supply.minimumVolts,
    maximumVolts: detector.supply.maximumVolts,
    mainsVolts: mains.get(detector.id)!.nominal,
    batteryEndVolts: batteryEnd.get(detector.id)!.nominal,
    highestVolts: highest.get(detector.id)!.nominal,
    now: now.get(detector.id)!,
    assumed: assumedFor(survey, detector),
  }));
}

/** Fields that bear on a voltage. */
const BEARING = ['length', 'conductor', 'supply.standby', 'supply.alarm', 'supply.minimum', 'supply.maximum'];

/** What stands in for something unknown on the way to a detector, as `c2.length`. */
function assumedFor(survey: Survey, detector: PoweredDetector): string[] {
  const about = new Set([detector.id, ...cablesToPanel(survey, detector.cable).map((cable) => cable.id)]);
  return survey.assumed
    .filter(({ about: id, field }) => about.has(id) && BEARING.includes(field))
    .map((entry) => `${entry.about}.${entry.field}`);
}
