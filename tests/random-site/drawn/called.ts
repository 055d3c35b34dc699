import type { Building } from '../../../source/rehearsal/building/building.ts';
import type { Called } from '../../../source/rehearsal/technician/literal.ts';
import type { Wiring } from '../../../source/wiring/wiring.ts';

/**
 * What the papers call a place, found in the building by the wires that end there. Where the papers have ends in one
 * place that are in two, or one place for two, they were misread.
 */
export function placesOf(wiring: Wiring, building: Building): { called: Called; misread: readonly string[] } {
  const names = new Map<string, string>();
  const back = new Map<string, string>();
  const misread: string[] = [];
  for (const { id, near, far } of wiring.conductors) {
    const wire = building.wires.get(id);
    if (wire === undefined) {
      misread.push(`there is no ${id}`);
      continue;
    }
    for (const [name, place] of [
      [near, wire.near],
      [far, wire.far],
    ] as const) {
      if (name.startsWith('old:') && name !== place) misread.push(`${id} is at ${place}, not at ${name}`);
      const known = names.get(name);
      if (known === undefined) names.set(name, place);
      else if (known !== place)
        misread.push(`${id} is not at ${name} with the others: it is at ${place}, they at ${known}`);
      const other = back.get(place);
      if (other === undefined) back.set(place, name);
      else if (other !== name) misread.push(`${place} is both ${other} and ${name}`);
    }
  }
  nameInside(names, wiring, building);
  for (const { detector, purpose, a, b } of wiring.contacts) {
    const contact = building.contacts.find((one) => one.detector === detector && one.purpose === purpose);
    const ends = new Set([contact?.a, contact?.b]);
    const isElsewhere = [a, b].some(
      (name) => names.has(name) && isWired(building, ends) && !ends.has(names.get(name)),
    );
    if (contact === undefined || isElsewhere)
      misread.push(`the ${purpose} contact of ${detector} is not at ${a} and ${b}`);
  }
  for (const { id } of wiring.resistors) if (!building.resistors.has(id)) misread.push(`there is no ${id}`);
  for (const id of building.resistors.keys())
    if (!wiring.resistors.some((one) => one.id === id)) misread.push(`${id} is in no paper`);
  return { called: (name) => names.get(name) ?? name, misread: [...new Set(misread)] };
}

/** Whether wires end at both: then nothing else of the loop is in the housing between them and the contact. */
function isWired({ wires }: Building, ends: ReadonlySet<string | undefined>): boolean {
  return [...ends].every((node) =>
    [...wires.values()].some(({ near, far }) => near === node || far === node),
  );
}

/** Where no wire ends the place is told by what lies between it and one that is known. */
function nameInside(names: Map<string, string>, wiring: Wiring, building: Building): void {
  const parts = [
    ...wiring.resistors.map((one) => ({ ...one, there: building.resistors.get(one.id) })),
    ...wiring.contacts.map((one) => ({
      ...one,
      there: building.contacts.find(
        ({ detector, purpose }) => detector === one.detector && purpose === one.purpose,
      ),
    })),
  ];
  // A housing has few parts: each round names what lies behind one more.
  for (let round = 0; round < 4; round++)
    for (const { a, b, there } of parts) {
      const [known, other] = names.has(a) ? [a, b] : [b, a];
      if (there === undefined || !names.has(known) || names.has(other)) continue;
      const place = names.get(known);
      if (place === there.a) names.set(other, there.b);
      else if (place === there.b) names.set(other, there.a);
    }
}
