import type { Survey } from '../site/survey.ts';
import type { Wiring } from '../wiring/wiring.ts';
import { sounderFit } from './connections/sounder-ends.ts';
import { ampHours, amps, ohms, volts } from './findings/words.ts';
import type { Circuit, Connection, FittedWork, Plan, TerminalUse, ZonePlan } from './plan.ts';
import type { BoardFeed } from './supply/feeds.ts';
import { isAcross, wayOutOf } from './work/way-out.ts';

const RELAY = 'relay 12 V, changeover contact, diode 1N4001 to 1N4007 across its coil';

/** What to bring, counted from the connections; each count is as long as the list of what it is for. */
export function computeParts(
  survey: Survey,
  wiring: Wiring,
  connections: readonly Connection[],
  terminals: readonly TerminalUse[],
  circuits: readonly Circuit[],
  zones: readonly ZonePlan[],
  feeds: readonly BoardFeed[],
): Plan['parts'] {
  const places = new Map<string, string[]>();
  const add = (item: string, ...uses: readonly string[]) => {
    if (uses.length > 0) places.set(item, [...(places.get(item) ?? []), ...uses]);
  };
  const by = (how: Connection['by']) =>
    connections.filter((connection) => connection.by === how).map(({ conductor }) => conductor);
  const joints = new Set(connections.flatMap(({ to }) => ('joint' in to ? [to.joint] : [])));
  const screws = (remedy: TerminalUse['remedy']) =>
    terminals.filter((one) => one.remedy === remedy).map(({ board, terminal }) => `${terminal} of ${board}`);

  add('wire label', ...connections.filter((one) => one.by !== 'untouched').map(({ conductor }) => conductor));
  add(
    'splice',
    ...[...joints].map((node) => node.slice(node.indexOf(':') + 1)),
    ...screws('pigtail'),
    ...by('extension'),
  );
  add('pigtail', ...screws('pigtail'), ...screws('block'));
  const fused = new Set(feeds.map(({ board: { id, aux } }) => `${aux.positive} of ${id}`));
  add('fused distribution block', ...screws('block').filter((screw) => fused.has(screw)));
  add('distribution block', ...screws('block').filter((screw) => !fused.has(screw)));
  add('extension lead', ...by('extension'));
  add('insulating cap', ...by('parked'));
  for (const { resistor, detectors, board, input } of circuits) {
    if (resistor.newOhms !== null) add(`resistor ${ohms(resistor.newOhms)}`, `input ${board}/${input}`);
    if (resistor.newAlarmOhms !== undefined)
      add(`resistor ${ohms(resistor.newAlarmOhms)}`, ...detectors.map((id) => `contact of ${id}`));
  }
  for (const { id: zone, fitted } of zones)
    for (const one of fitted)
      if (one.work !== 'keep' && one.at !== 'panel' && leavesEnds(survey, wiring, zone, one))
        add(
          'splice at a detector',
          one.at === 'unknown' ? `${zone} if at a detector` : `${zone} at ${one.at.detector}`,
        );
  for (const { board, sounders } of feeds)
    add(RELAY, ...sounders.filter((one) => sounderFit(one, board) === 'needs-relay').map(({ id }) => id));
  for (const { id, adapter, battery } of feeds.map(({ board }) => board)) {
    add(`adapter ${volts(adapter.volts)} DC ${amps(adapter.amps)}`, id);
    if (battery)
      add(`battery ${volts(battery.volts)} ${ampHours(battery.capacityAmpHours)} with fused leads`, id);
  }
  return [...places].map(([item, uses]) => ({ item, count: uses.length, for: uses }));
}

/** What just goes, or is set by a jumper, leaves nothing to join; another value in its place has two ends again. */
function leavesEnds(survey: Survey, wiring: Wiring, zone: string, { id, work, at }: FittedWork): boolean {
  if (work === 'replace') return true;
  const resistor = wiring.resistors.find((one) => one.id === id)!;
  return at === 'unknown'
    ? !isAcross(survey, wiring, zone, resistor)
    : wayOutOf(survey, wiring, zone, id) === 'in-row';
}
