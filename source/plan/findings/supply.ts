import type { Board } from '../../site/board.ts';
import type { Survey } from '../../site/survey.ts';
import { pairOhms } from '../../site/worth.ts';
import type { Finding } from '../plan.ts';

import { computeDeviceVolts } from '../supply/device-volts.ts';
import { type BoardFeed, isAssumedCurrent, type PoweredDetector, rootCable } from '../supply/feeds.ts';
import { leastMend, type Mend, mendOfRun } from '../supply/remedy.ts';
import { type Facts, finding } from './facts.ts';
import { amps, listed, volts } from './words.ts';

/** Is there enough of everything a board gives: current, voltage, and not too much of it. */
export function supplyFindings(facts: Facts): Finding[] {
  return [
    ...facts.feeds.flatMap((feed, index) => boardFindings(facts, feed, index)),
    ...currentUnknown(facts),
  ];
}

function boardFindings(facts: Facts, feed: BoardFeed, index: number): Finding[] {
  const { board } = feed;
  const supply = facts.supply[index]!;
  const doubtful = doubtfulAmps(facts, feed);
  const found: Finding[] = [];
  if (supply.auxAmps > board.aux.amps) {
    const severity = supply.auxAmps - doubtful > board.aux.amps ? overloaded(facts) : 'caution';
    const heaviest = [...feed.detectors].sort((a, b) => b.supply.alarmAmps - a.supply.alarmAmps)[0];
    const about = [board.id, ...(heaviest ? [heaviest.id] : [])];
    const says = `${board.id} gives ${amps(board.aux.amps)} on aux, and its detectors draw ${amps(supply.auxAmps)} in alarm.`;
    const act =
      severity === 'block'
        ? `Move ${amps(supply.auxAmps - board.aux.amps)} or more to another board, or feed those detectors from a fused 12 V supply of their own.`
        : settleFirst(facts);
    const figures = { auxAmps: supply.auxAmps, auxMaximumAmps: board.aux.amps };
    found.push(finding('aux-overloaded', severity, about, says, act, figures));
  }
  if (supply.alarmAmps > supply.limitAmps) {
    const severity = supply.alarmAmps - doubtful > supply.limitAmps ? overloaded(facts) : 'caution';
    found.push(
      finding(
        'supply-overloaded',
        severity,
        [board.id],
        `${board.id} needs ${amps(supply.alarmAmps)} in alarm, and its supply leaves ${amps(supply.limitAmps)} beside charging.`,
        severity === 'block'
          ? 'Use a larger adapter where the board allows it, or spread the load over another board.'
          : settleFirst(facts),
        { alarmAmps: supply.alarmAmps, limitAmps: supply.limitAmps },
      ),
    );
  }
  return [...found, ...adapterFindings(facts, board), ...voltageFindings(facts, feed)];
}

/** An overload stops the work only where it is proved that no placing of the groups avoids it. */
function overloaded({ placement }: Facts): 'block' | 'caution' {
  return placement.fits === 'unknown' ? 'caution' : 'block';
}

function settleFirst({ placement }: Facts): string {
  return placement.fits === 'unknown'
    ? 'Not every way of laying the detectors on the boards was weighed: ask for inputs on the boards with current to spare, or add a board.'
    : 'Find the currents that are assumed before anything is moved.';
}

/** What of a board's current stands on assumptions alone. */
function doubtfulAmps({ survey }: Facts, { detectors }: BoardFeed): number {
  return detectors
    .filter((detector) => isAssumedCurrent(survey, detector))
    .reduce((sum, { supply }) => sum + Math.max(supply.standbyAmps, supply.alarmAmps), 0);
}

function adapterFindings({ survey, supply }: Facts, board: Board): Finding[] {
  const { adapter } = board;
  const { fromVolts, toVolts } = board.supply.accepts;
  const lead = survey.cables.find(({ id }) => id === adapter.lead);
  const alarm = supply.find((one) => one.board === board.id)!.alarmAmps;
  const dropVolts = lead ? pairOhms(lead, survey).max * alarm : 0;
  const least = adapter.volts * (1 - adapter.tolerance) - dropVolts;
  const most = adapter.volts * (1 + adapter.tolerance);
  // Both bounds come from decimal figures: a board may state the very edge of its adapter's tolerance.
  if (least >= fromVolts - 1e-9 && most <= toVolts + 1e-9) return [];
  return [
    finding(
      'adapter-unfit',
      'caution',
      [board.id, ...(lead ? [lead.id] : [])],
      `The adapter of ${board.id} gives ${volts(least)} to ${volts(most)} at the board, which accepts ${volts(fromVolts)} to ${volts(toVolts)}.`,
      lead && least + dropVolts >= fromVolts
        ? `Give the board a shorter or thicker lead than ${lead.id}.`
        : 'Bring a regulated adapter inside that range.',
      { leastVolts: least, mostVolts: most, acceptsFromVolts: fromVolts, acceptsToVolts: toVolts },
    ),
  ];
}

function voltageFindings(facts: Facts, feed: BoardFeed): Finding[] {
  const { survey } = facts;
  const mains = computeDeviceVolts(survey, feed, 'mains');
  const batteryEnd = computeDeviceVolts(survey, feed, 'batteryEnd');
  const highest = computeDeviceVolts(survey, feed, 'highest');
  const supply = facts.supply.find(({ board }) => board === feed.board.id)!;
  const runOf = shortRuns(survey, feed, (id) => Math.min(mains.get(id)!.min, batteryEnd.get(id)!.min));
  return feed.detectors.flatMap((detector) => {
    const found: Finding[] = [];
    const { minimumVolts, maximumVolts } = detector.supply;
    const onMains = mains.get(detector.id)!;
    const onBattery = batteryEnd.get(detector.id)!;
    const worse = onBattery.min < onMains.min ? onBattery : onMains;
    if (worse.min < minimumVolts) {
      const isSure = Math.min(onMains.max, onBattery.max) < minimumVolts;
      const run = runOf.get(detector.id)!;
      const assumed = supply.devices
        .filter(({ id }) => (run.mends ? run.short.some((one) => one.id === id) : id === detector.id))
        .flatMap((device) => device.assumed);
      const when = worse === onBattery ? 'at the end of the battery' : 'on mains';
      const mend = run.mends?.get(detector.id) ?? leastMend(survey, feed, detector);
      found.push(
        finding(
          'detector-undervoltage',
          isSure ? 'block' : 'caution',
          [detector.id, detector.cable],
          `${detector.name} needs ${volts(minimumVolts)} and gets ${volts(worse.nominal)} ${when}${isSure ? '' : `, ${volts(worse.min)} at worst`}.`,
          isSure || assumed.length === 0
            ? mend.says
            : `Settle ${settledWords([...new Set(assumed)])}; if it stays short: ${mend.says}`,
          {
            mainsVolts: onMains.nominal,
            batteryEndVolts: onBattery.nominal,
            worstVolts: worse.min,
            bestVolts: worse.max,
            minimumVolts,
            ...mend.figures,
          },
        ),
      );
    }
    const top = highest.get(detector.id)!.nominal;
    if (top > maximumVolts)
      found.push(
        finding(
          'detector-overvoltage',
          'caution',
          [detector.id],
          `${detector.name} stands at most ${volts(maximumVolts)} and may get ${volts(top)}.`,
          'Feed it through a regulator of its own, or use a board whose aux stays lower.',
          { highestVolts: top, maximumVolts },
        ),
      );
    return found;
  });
}

type Run = { readonly short: readonly PoweredDetector[]; readonly mends: ReadonlyMap<string, Mend> | null };

/** Detectors short of voltage with what hangs on the same run: where several are, one change is to mend them all. */
function shortRuns(survey: Survey, feed: BoardFeed, leastVolts: (id: string) => number): Map<string, Run> {
  const byRoot = new Map<string, PoweredDetector[]>();
  for (const detector of feed.detectors) {
    if (leastVolts(detector.id) >= detector.supply.minimumVolts) continue;
    const root = rootCable(survey, detector.cable);
    byRoot.set(root, [...(byRoot.get(root) ?? []), detector]);
  }
  return new Map(
    [...byRoot.values()].flatMap((short) => {
      const run = { short, mends: short.length > 1 ? mendOfRun(survey, feed, short) : null };
      return short.map(({ id }) => [id, run] as const);
    }),
  );
}

/** `c7.length` and `d2.supply.alarm` as what somebody would look up: `length of c7`, `alarm of d2`. */
function settledWords(assumed: readonly string[]): string {
  const fieldsOf = new Map<string, string[]>();
  for (const path of assumed) {
    const [id = '', ...field] = path.split('.');
    fieldsOf.set(id, [...(fieldsOf.get(id) ?? []), field.at(-1) ?? '']);
  }
  const idsOf = new Map<string, string[]>();
  for (const [id, fields] of fieldsOf) idsOf.set(listed(fields), [...(idsOf.get(listed(fields)) ?? []), id]);
  return listed([...idsOf].map(([fields, ids]) => `${fields} of ${listed(ids)}`));
}

function currentUnknown({ survey, lifeSafety }: Facts): Finding[] {
  const detectors = survey.assumed
    .filter(({ field }) => field === 'supply.standby' || field === 'supply.alarm')
    .map(({ about }) => about)
    .filter((id) => !lifeSafety.ids.has(id));
  const sounders = survey.sounders.filter(({ currentAmps }) => currentAmps === null).map(({ id }) => id);
  const about = [...new Set([...detectors, ...sounders])];
  if (about.length === 0) return [];
  return [
    finding(
      'current-unknown',
      'caution',
      about,
      `Nobody knows what ${listed(about)} ${about.length > 1 ? 'draw' : 'draws'}; ${sounders.length > 0 ? 'a sounder is reckoned with nothing' : 'a usual figure stands in'}.`,
      'Read the data label or measure the current once powered, and correct the survey.',
      { count: about.length },
    ),
  ];
}
