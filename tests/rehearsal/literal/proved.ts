import type { Building } from '../../../source/rehearsal/building/building.ts';
import type { HandAct } from '../../../source/rehearsal/building/hands.ts';
import type { Deed } from '../../../source/rehearsal/technician/literal.ts';

export type Unproved = { readonly step: string; readonly how: string; readonly node: string };

/**
 * Where a hand was laid, or ohms were read, at a place of which nobody knew that it is dead: read DC and AC since it was
 * last changed. A change is both sides of an act and whatever hangs on either through wires, resistors and contacts in
 * any state: 29 CFR 1910.333(b)(2)(iv)(B) asks for backfeed too.
 */
export function findUnproved(deeds: readonly Deed[]): Unproved[] {
  const known = new Map<string, Set<string>>();
  const isProved = (node: string) => known.get(node)?.size === 2;
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
    for (const node of changedBy(act, before, after)) known.delete(node);
  }
  return found;
}

/** Only what hangs on the wiring can be live: not a part in the hand, nor a board on the bench. */
function isWired(building: Building, node: string): boolean {
  return [...building.wires.values()].some(({ near, far }) => near === node || far === node);
}

/** Places that the fingers are on. */
function handsOn(act: HandAct, building: Building): string[] {
  const near = (id: string) => building.wires.get(id)?.near ?? [];
  switch (act.do) {
    case 'lift':
    case 'cut':
    case 'insulate':
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
