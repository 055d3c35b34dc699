import type { Building } from '../../../source/rehearsal/building/building.ts';
import type { HandAct } from '../../../source/rehearsal/building/hands.ts';
import type { Deed } from '../../../source/rehearsal/technician/literal.ts';

export type Unproved = { readonly step: string; readonly how: string; readonly node: string };

/**
 * Where a hand was laid, or ohms were read, at a place of which nobody knew that it is dead: read DC and AC since it was
 * last changed. What an act takes apart changes both sides of it and whatever hangs on either through wires, resistors
 * and contacts in any state, for what held it at earth may be gone: 29 CFR 1910.333(b)(2)(iv)(B) asks for backfeed too.
 * What an act joins is known to be dead where both sides were; so are the terminals of a board that was never fed.
 */
export function findUnproved(deeds: readonly Deed[]): Unproved[] {
  const known = new Map<string, Set<string>>();
  const isProved = (node: string) => known.get(node)?.size === 2;
  const fresh = new Set(['fresh']);
  const isFresh = (node: string) => fresh.has(node.split(':')[0]!);
  const found: Unproved[] = [];
  for (const deed of deeds) {
    if (deed.kind === 'read') {
      if (deed.of === 'volts-dc' || deed.of === 'volts-ac')
        for (const node of deed.at) known.set(node, new Set(known.get(node)).add(deed.of));
      else if (deed.of === 'ohms')
        for (const node of deed.at)
          if (isWired(deed.building, node) && !isProved(node))
            found.push({ step: deed.step, how: 'ohms', node });
      continue;
    }
    const { step, act, before, after } = deed;
    for (const node of handsOn(act, before)) if (!isProved(node)) found.push({ step, how: act.do, node });
    const changed = changedBy(act, before, after);
    const isKnown =
      JOINS.has(act.do) && [...sidesOf(act, before)].every((node) => isProved(node) || isFresh(node));
    if (isKnown) for (const node of joinedAt(act)) known.set(node, new Set(BOTH));
    else for (const node of changed) known.delete(node);
    if (act.do === 'connect-source' && act.board !== null) fresh.delete(act.board);
    if (act.do === 'mount') fresh.add(act.board);
  }
  return found;
}

const BOTH = ['volts-dc', 'volts-ac'];
/** Acts that join and take nothing apart. */
const JOINS = new Set<HandAct['do']>(['land', 'splice', 'link', 'fit-resistor']);

/** Where what an act joined is now. */
function joinedAt(act: HandAct): readonly string[] {
  if (act.do === 'land') return [act.at];
  if (act.do === 'splice') return [act.into];
  return act.do === 'fit-resistor' ? act.between : [];
}

/** The places that an act brings together. */
function sidesOf(act: HandAct, building: Building): Set<string> {
  if (act.do === 'land')
    return new Set([building.wires.get(act.conductor)?.near ?? '', placeAt(act.at, building)]);
  if (act.do === 'splice') return new Set([act.from, act.into]);
  if (act.do === 'fit-resistor') return new Set(act.between.map((node) => placeAt(node, building)));
  return new Set();
}

/** A joint that nothing is in yet, and the free leg of a new resistor, are as dead as what is brought there. */
function placeAt(node: string, { wires, resistors }: Building): string {
  const isEmpty =
    ![...wires.values()].some(({ near, far }) => near === node || far === node) &&
    ![...resistors.values()].some(({ a, b }) => a === node || b === node);
  const board = /^(b\d+):/.exec(node)?.[1];
  return isEmpty && board === undefined ? 'fresh:' : node;
}

/** Only what hangs on the wiring can be live: not a part in the hand, nor a board on the bench. */
function isWired(building: Building, node: string): boolean {
  return [...building.wires.values()].some(({ near, far }) => near === node || far === node);
}

/** Places that the fingers are on. To cover a bare end is what makes it safe, and is done before it can be read. */
function handsOn(act: HandAct, building: Building): string[] {
  const near = (id: string) => building.wires.get(id)?.near ?? [];
  switch (act.do) {
    case 'lift':
    case 'cut':
    case 'land':
    case 'move':
      return [near(act.conductor)].flat();
    case 'part':
      return [...new Set(act.conductors.flatMap(near))];
    case 'splice':
      return [act.from, act.into];
    case 'remove-resistor':
    case 'set-jumper': {
      const resistor = building.resistors.get(act.resistor);
      return resistor === undefined ? [] : [resistor.a, resistor.b];
    }
    default:
      return [];
  }
}

function changedBy(act: HandAct, before: Building, after: Building): Set<string> {
  if (act.do === 'remove' || act.do === 'connect-source')
    return new Set([...before.wires.values()].flatMap(({ near, far }) => [near, far]));
  const moved = [...after.wires.values()].flatMap(({ id, near, far }) => {
    const was = before.wires.get(id);
    return was === undefined || (was.near === near && was.far === far) ? [] : [was.near, was.far, near, far];
  });
  const legs = [...new Set([...before.resistors.keys(), ...after.resistors.keys()])].flatMap((id) => {
    const [was, is] = [before.resistors.get(id), after.resistors.get(id)];
    return was?.a === is?.a && was?.b === is?.b
      ? []
      : [was?.a, was?.b, is?.a, is?.b].filter((one) => one !== undefined);
  });
  return reach(after, [...moved, ...legs]);
}

function reach({ wires, resistors, contacts }: Building, from: readonly string[]): Set<string> {
  const beside = new Map<string, string[]>();
  const join = (a: string, b: string) => {
    beside.set(a, [...(beside.get(a) ?? []), b]);
    beside.set(b, [...(beside.get(b) ?? []), a]);
  };
  for (const { near, far } of wires.values()) join(near, far);
  for (const { a, b } of resistors.values()) join(a, b);
  for (const { a, b } of contacts) join(a, b);
  const seen = new Set(from);
  for (const node of seen) for (const next of beside.get(node) ?? []) seen.add(next);
  return seen;
}
