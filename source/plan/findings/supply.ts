import { isOver, isUnder } from '../../electrical/limit.ts';
import { contactAmps } from '../../electrical/sensing.ts';
import type { Survey } from '../../site/survey.ts';
import type { BoardSupply, DeviceSupply, Finding } from '../plan.ts';
import { adapterVolts, adapterWanted } from '../supply/adapter.ts';
import { type BoardFeed, isAssumedCurrent, rootCable } from '../supply/feeds.ts';
import { adapterLead } from '../supply/lead.ts';
import { type SupplyLoad, supplyLoads } from '../supply/loads.ts';
import { leastMend, type Mend, mendOfRun } from '../supply/remedy.ts';
import { type Facts, finding } from './facts.ts';
import { amps, beyondWords, leastVolts, listed, volts } from './words.ts';

/** Is there enough of everything a board gives: current, voltage, and not too much of it. */
export function supplyFindings(facts: Facts): Finding[] {
  return [
    ...facts.feeds.flatMap((feed, index) => boardFindings(facts, feed, index)),
    ...currentUnknown(facts),
    ...unfed(facts),
  ];
}

function boardFindings(facts: Facts, feed: BoardFeed, index: number): Finding[] {
  const { board } = feed;
  const supply = facts.supply[index]!;
  const doubtful = doubtfulAmps(facts, feed);
  const found: Finding[] = [];
  if (isOver(supply.auxAmps, board.aux.amps)) {
    const severity = isOver(supply.auxAmps - doubtful, board.aux.amps) ? overloaded(facts) : 'caution';
    const heaviest = [...feed.detectors].sort((a, b) => b.supply.alarmAmps - a.supply.alarmAmps)[0];
    const about = [board.id, ...(heaviest ? [heaviest.id] : [])];
    const says = `${board.id} gives ${amps(board.aux.amps)} on aux, and its detectors draw ${beyondWords(supply.auxAmps, board.aux.amps, 'amps')} in alarm.`;
    const act =
      severity === 'block'
        ? `Move ${amps(supply.auxAmps - board.aux.amps)} or more to another board, or feed those detectors from a fused 12 V supply of their own.`
        : settleFirst(facts);
    const figures = { auxAmps: supply.auxAmps, auxMaximumAmps: board.aux.amps };
    found.push(finding('aux-overloaded', severity, about, says, act, figures));
  }
  if (isOver(supply.alarmAmps, supply.limitAmps)) {
    const severity = isOver(supply.alarmAmps - doubtful, supply.limitAmps) ? overloaded(facts) : 'caution';
    found.push(
      finding(
        'supply-overloaded',
        severity,
        [board.id],
        `The supply of ${board.id} leaves ${amps(supply.limitAmps)}${board.battery ? ' beside charging' : ''}, and in alarm the board needs ${beyondWords(supply.alarmAmps, supply.limitAmps, 'amps')}.`,
        severity === 'block'
          ? 'Use a larger adapter where the board allows it, or spread the load over another board.'
          : settleFirst(facts),
        { alarmAmps: supply.alarmAmps, limitAmps: supply.limitAmps },
      ),
    );
  }
  return [
    ...found,
    ...adapterFindings(facts, feed),
    ...contactFindings(facts, feed),
    ...voltageFindings(facts, feed, supply),
  ];
}

/** An overload stops the work only where it is proved that no placing of the groups avoids it. */
function overloaded({ placement }: Facts): 'block' | 'caution' {
  return placement.fits === 'unknown' ? 'caution' : 'block';
}

function settleFirst({ placement, supply, boards }: Facts): string {
  if (placement.fits !== 'unknown') return 'Find the currents that are assumed before anything is moved.';
  const drawn = supply.reduce((sum, { auxAmps }) => sum + auxAmps, 0);
  const given = boards.reduce((sum, { aux }) => sum + aux.amps, 0);
  return `Not every way of laying the detectors on the boards was weighed, which together give ${amps(given)} for ${amps(drawn)}: ask for inputs on boards with current to spare, or add a board.`;
}

/** What of a board's current stands on assumptions alone. */
function doubtfulAmps({ survey }: Facts, { detectors }: BoardFeed): number {
  return detectors
    .filter((detector) => isAssumedCurrent(survey, detector))
    .reduce((sum, { supply }) => sum + Math.max(supply.standbyAmps, supply.alarmAmps), 0);
}

function adapterFindings({ survey }: Facts, feed: BoardFeed): Finding[] {
  const { board } = feed;
  const { fromVolts, toVolts } = board.supply.accepts;
  const lead = adapterLead(survey, feed);
  const { least, most, boardLeast } = adapterVolts(survey, feed);
  if (!isUnder(boardLeast, fromVolts) && !isOver(most, toVolts)) return [];
  const advice =
    lead && !isUnder(least, fromVolts) && !isOver(most, toVolts)
      ? { says: `Give the board a shorter or thicker lead than ${lead.id}.`, figures: {} }
      : adapterAdvice(survey, feed);
  return [
    finding(
      'adapter-unfit',
      'caution',
      [board.id, ...(lead ? [lead.id] : [])],
      `The adapter of ${board.id} gives ${volts(boardLeast)} to ${volts(most)} at the board, which accepts ${volts(fromVolts)} to ${volts(toVolts)}.`,
      advice.says,
      {
        leastVolts: boardLeast,
        mostVolts: most,
        acceptsFromVolts: fromVolts,
        acceptsToVolts: toVolts,
        ...advice.figures,
      },
    ),
  ];
}

/**
 * Which adapter to put into the board's file instead. Parts, bench card and power-up take theirs from that file, and
 * what aux gives stands in it too: nothing here may promise an adapter that they do not know.
 */
export function adapterAdvice(survey: Survey, feed: BoardFeed): Pick<Mend, 'says' | 'figures'> {
  const { from, to, advised } = adapterWanted(survey, feed);
  const figures = { wantedFromVolts: from, wantedToVolts: to };
  if (advised === null)
    return {
      says: `No adapter keeps between ${volts(from)} and ${volts(to)}: use a shorter lead, or a board with a charger that makes its own voltage.`,
      figures,
    };
  const says = `One that stays between ${volts(from)} and ${volts(to)} does, ${volts(advised.volts)} ±${Math.round(advised.tolerance * 100)} % for one: put it into the board's file, with what aux then gives, and plan again.`;
  return { says, figures: { ...figures, advisedVolts: advised.volts } };
}

/** What the contacts of the least relay in the trade stand: 50 mA, a movement detector's data sheet of 1996. */
const CONTACT_MAXIMUM_AMPS = 0.05;

function contactFindings({ circuits, survey }: Facts, { board }: BoardFeed): Finding[] {
  const current = contactAmps(board.sensing);
  const relays = new Set(survey.detectors.filter(({ supply }) => supply !== null).map(({ id }) => id));
  const about = circuits
    .filter((circuit) => circuit.board === board.id && circuit.purpose === 'detection')
    .flatMap(({ detectors }) => detectors.filter((id) => relays.has(id)));
  if (!isOver(current, CONTACT_MAXIMUM_AMPS) || about.length === 0) return [];
  return [
    finding(
      'contact-overloaded',
      'caution',
      [board.id, ...about],
      `The inputs of ${board.id} send ${beyondWords(current, CONTACT_MAXIMUM_AMPS, 'amps')} through a closed contact, and the relay of a detector may stand only ${amps(CONTACT_MAXIMUM_AMPS)}.`,
      'Read what the contact stands off the data of each detector; where it is less, put a relay between or use inputs with a higher pull-up.',
      { contactAmps: current, contactMaximumAmps: CONTACT_MAXIMUM_AMPS },
    ),
  ];
}

function voltageFindings(facts: Facts, feed: BoardFeed, supply: BoardSupply): Finding[] {
  const { survey } = facts;
  const loadOf = new Map(supplyLoads(survey, feed).map((load) => [load.id, load]));
  const nameOf = new Map(feed.detectors.map(({ id, name }) => [id, name]));
  const runOf = shortRuns(survey, feed, supply.devices, loadOf);
  return supply.devices.flatMap((device) => {
    const found: Finding[] = [];
    const { id, mainsVolts, batteryEndVolts, worstVolts, bestVolts, minimumVolts, maximumVolts } = device;
    const name = nameOf.get(id)!;
    if (isUnder(worstVolts, minimumVolts)) {
      const isSure = isUnder(bestVolts, minimumVolts);
      const run = runOf.get(id)!;
      const assumed = supply.devices
        .filter((one) => (run.mends ? run.short.some((load) => load.id === one.id) : one.id === id))
        .flatMap((one) => one.assumed);
      const mend = run.mends?.get(id) ?? leastMend(survey, feed, loadOf.get(id)!);
      found.push(
        finding(
          'detector-undervoltage',
          isSure ? 'block' : 'caution',
          [id, loadOf.get(id)!.cable],
          shortSays(name, device, isSure),
          isSure || assumed.length === 0
            ? mend.says
            : `Settle ${settledWords([...new Set(assumed)])}; if it stays short: ${mend.says}`,
          { mainsVolts, batteryEndVolts, worstVolts, bestVolts, minimumVolts, ...mend.figures },
        ),
      );
    }
    if (isOver(device.highestVolts, maximumVolts))
      found.push(
        finding(
          'detector-overvoltage',
          'caution',
          [id],
          `${name} stands at most ${volts(maximumVolts)} and may get ${beyondWords(device.highestVolts, maximumVolts, 'volts')}.`,
          'Feed it through a regulator of its own and say in the survey what that stands, or use a board whose aux stays lower.',
          { highestVolts: device.highestVolts, maximumVolts },
        ),
      );
    return found;
  });
}

/** What is short of voltage, when, and by how much: a detector, or a sounder. */
export function shortSays(
  name: string,
  arriving: Pick<DeviceSupply, 'mainsVolts' | 'batteryEndVolts' | 'worstVolts' | 'minimumVolts'>,
  isSure: boolean,
): string {
  const { mainsVolts, batteryEndVolts, worstVolts, minimumVolts } = arriving;
  const [gets, when] =
    batteryEndVolts < mainsVolts ? [batteryEndVolts, 'at the end of the battery'] : [mainsVolts, 'on mains'];
  const typical = isUnder(gets, minimumVolts) ? beyondWords(gets, minimumVolts, 'volts') : volts(gets);
  const worst = isSure ? '' : `, ${leastVolts(worstVolts)} at worst`;
  return `${name} needs ${volts(minimumVolts)} and gets ${typical} ${when}${worst}.`;
}

type Run = { readonly short: readonly SupplyLoad[]; readonly mends: ReadonlyMap<string, Mend> | null };

/** Detectors short of voltage with what hangs on the same run: where several are, one change is to mend them all. */
function shortRuns(
  survey: Survey,
  feed: BoardFeed,
  devices: readonly DeviceSupply[],
  loadOf: ReadonlyMap<string, SupplyLoad>,
): Map<string, Run> {
  const byRoot = new Map<string, SupplyLoad[]>();
  for (const { id, worstVolts, minimumVolts } of devices) {
    if (!isUnder(worstVolts, minimumVolts)) continue;
    const load = loadOf.get(id)!;
    const root = rootCable(survey, load.cable);
    byRoot.set(root, [...(byRoot.get(root) ?? []), load]);
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

/** A movement detector listens with electronics: without a supply in the survey, something of it was not seen. */
function unfed({ survey, lifeSafety }: Facts): Finding[] {
  return survey.detectors
    .filter(({ id, kind, supply }) => kind === 'movement' && supply === null && !lifeSafety.ids.has(id))
    .map(({ id, name, cable }) =>
      finding(
        'detector-unfed',
        'caution',
        [id, cable],
        `${name} detects movement, which takes a supply, and the survey gives it none.`,
        `Look at its terminals: name the cores of ${cable} that feed it, or say from-loop where the loop does. One with a battery of its own needs a new battery.`,
      ),
    );
}
