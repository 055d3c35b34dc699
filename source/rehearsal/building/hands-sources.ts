import type { Building, Harm } from './building.ts';
import { isFed } from './circuit.ts';
import { LOW_INPUT_OHMS, readVolts } from './meter.ts';
import { done, type Handled, impossible } from './places.ts';

/** Above this a conductor that is touched counts as live. */
const LIVE_VOLTS = 1;

/** A source put on, or taken off. */
export function setConnected(building: Building, name: string, connected: boolean): Building {
  const source = building.sources.get(name);
  if (building.sounders.some(({ id }) => name === `sounder:${id}`)) return inBox(building, name, connected);
  if (source === undefined || source.connected === connected) return building;
  return { ...building, sources: new Map(building.sources).set(name, { ...source, connected }) };
}

/** The battery in a sounder's box sits behind a diode: at its wires nothing shows of it. */
function inBox(building: Building, name: string, isOn: boolean): Building {
  const sounders = building.sounders.map((one) =>
    name === `sounder:${one.id}` && one.battery !== 'none'
      ? { ...one, battery: isOn ? ('on' as const) : ('off' as const) }
      : one,
  );
  return { ...building, sounders };
}

/** A board that meets alternating current or reversed polarity is destroyed. */
export function connect(building: Building, name: string): Building {
  const source = building.sources.get(name);
  const after = setConnected(building, name, true);
  if (source?.feedsBoard === undefined || source.feedsBoard === null) return after;
  if (source.mode === 'dc' && source.volts > 0) return after;
  const what = source.mode === 'ac' ? 'alternating current' : 'reversed polarity';
  return hurt(after, { kind: 'board-destroyed', says: `${source.feedsBoard} met ${what} from ${name}` });
}

/** The old board goes with all its screws and tracks; a thing that is no more conducts nothing. */
export function removeThing(building: Building, what: string): Handled {
  const stays = (id: string) => !id.startsWith(`${what}:`) && id !== what;
  const after = {
    ...building,
    bridges: new Map([...building.bridges].filter(([id]) => stays(id))),
    rails: building.rails.filter(({ id }) => stays(id)),
    loads: building.loads.filter(({ device }) => stays(device)),
    removed: new Set([...building.removed, what]),
  };
  const held = what === 'panel' ? underScrews(building) : [];
  return held.length === 0 ? done(after) : impossible(after, `${held.join(', ')} is still under its screws`);
}

/** What a panel is still held by. */
function underScrews(building: Building): string[] {
  const isScrew = (node: string) => node.startsWith('old:');
  return [
    ...[...building.wires.values()].filter(({ near }) => isScrew(near)).map(({ id }) => id),
    ...[...building.resistors.values()].filter(({ a, b }) => isScrew(a) || isScrew(b)).map(({ id }) => id),
  ];
}

/** Notes it where a hand is laid on a conductor that stands under voltage. */
export function touch(building: Building, conductors: readonly string[]): Building {
  const against = ['earth', ...building.rails.flatMap(({ plus, minus }) => [plus, minus])];
  for (const mode of ['dc', 'ac'] as const) {
    if (!isAnyConnected(building, mode)) continue;
    for (const id of conductors) {
      const node = building.wires.get(id)?.near;
      if (node === undefined) continue;
      // Across what a hand draws: what is only induced collapses.
      const volts = Math.max(
        ...against.map((other) => Math.abs(readVolts(building, mode, node, other, LOW_INPUT_OHMS))),
      );
      if (volts > LIVE_VOLTS) {
        const says = `${id} was touched at ${volts.toFixed(1)} V ${mode === 'dc' ? 'DC' : 'AC'}`;
        return hurt(building, { kind: 'worked-live', says });
      }
    }
  }
  return building;
}

function isAnyConnected(building: Building, mode: 'dc' | 'ac'): boolean {
  if (mode === 'dc') return isFed(building);
  return [...building.sources.values()].some((one) => one.connected && one.mode === 'ac');
}

/** The building after something happened in it that harms a person or a board. */
function hurt(building: Building, harm: Harm): Building {
  return { ...building, harm: [...building.harm, harm] };
}
