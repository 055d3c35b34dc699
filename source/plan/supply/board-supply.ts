import { chosenAmpHours, holdUpHours, neededAmpHours, rechargeHours } from '../../electrical/battery.ts';
import { isUnder } from '../../electrical/limit.ts';
import type { Survey } from '../../site/survey.ts';
import type { BoardSupply, DeviceSupply, SounderSupply } from '../plan.ts';
import { adapterVolts } from './adapter.ts';
import { cablesToPanel } from './cable-ohms.ts';
import { type BoardFeed, holdOffAmps, limitAmps, type PoweredDetector, sounderAmps } from './feeds.ts';
import { computeSupplyVolts } from './supply-volts.ts';

/** What a board must carry and how long, and what arrives at each of its detectors and sounders. */
export function computeBoardSupply(survey: Survey, feed: BoardFeed): BoardSupply {
  const { board, detectors, sounders } = feed;
  const sum = <T>(of: readonly T[], amps: (one: T) => number) =>
    of.reduce((total, one) => total + amps(one), 0);
  const most = ({ supply }: PoweredDetector) => Math.max(supply.standbyAmps, supply.alarmAmps);
  const holdOff = holdOffAmps(feed);
  const ringing = sum(sounders, sounderAmps);
  const standbyAmps = board.own.standbyAmps + sum(detectors, (d) => d.supply.standbyAmps) + holdOff;
  const alarmAmps = board.own.standbyAmps + sum(detectors, most) + ringing;
  const { devices, sounders: sounding } = computeArriving(survey, feed);
  return {
    board: board.id,
    standbyAmps,
    alarmAmps,
    auxAmps: sum(detectors, most) + holdOff,
    sounderAmps: ringing,
    limitAmps: limitAmps(board),
    devices,
    sounders: sounding,
    firstToFail: leastSpared(devices)?.id ?? null,
    battery: board.battery && {
      ...sizeBattery(survey, standbyAmps, alarmAmps),
      holdUpHours: holdUpHours({
        capacityAmpHours: board.battery.capacityAmpHours,
        amps: standbyAmps,
        celsius: survey.conditions.batteryCelsius,
      }),
      // What never comes up to its float voltage is never filled.
      rechargeHours: isUnder(adapterVolts(survey, feed).floatLeast, board.battery.floatVolts)
        ? Number.POSITIVE_INFINITY
        : rechargeHours(board.battery.capacityAmpHours, board.battery.chargeAmps),
    },
  };
}

function sizeBattery(survey: Survey, standbyAmps: number, alarmAmps: number) {
  const { holdUpHours: hours, alarmHours, batteryMargin } = survey.policy;
  const required = neededAmpHours({
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
export function sparedVolts({
  mainsVolts,
  batteryEndVolts,
  minimumVolts,
}: Pick<DeviceSupply, 'mainsVolts' | 'batteryEndVolts' | 'minimumVolts'>): number {
  return Math.min(mainsVolts, batteryEndVolts) - minimumVolts;
}

function computeArriving(
  survey: Survey,
  feed: BoardFeed,
): { readonly devices: DeviceSupply[]; readonly sounders: SounderSupply[] } {
  const mains = computeSupplyVolts(survey, feed, 'mains');
  const batteryEnd = computeSupplyVolts(survey, feed, 'batteryEnd');
  const highest = computeSupplyVolts(survey, feed, 'highest');
  const now = computeSupplyVolts(survey, feed, 'now');
  const lowest = (id: string, minimumVolts: number) => ({
    id,
    minimumVolts,
    mainsVolts: mains.get(id)!.nominal,
    batteryEndVolts: batteryEnd.get(id)!.nominal,
    worstVolts: Math.min(mains.get(id)!.min, batteryEnd.get(id)!.min),
    bestVolts: Math.min(mains.get(id)!.max, batteryEnd.get(id)!.max),
  });
  return {
    devices: feed.detectors.map((detector) => ({
      ...lowest(detector.id, detector.supply.minimumVolts),
      maximumVolts: detector.supply.maximumVolts,
      highestVolts: highest.get(detector.id)!.max,
      now: now.get(detector.id)!,
      assumed: assumedFor(survey, detector),
    })),
    sounders: feed.sounders.map(({ id, minimumVolts }) => lowest(id, minimumVolts)),
  };
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
