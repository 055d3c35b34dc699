import type { Building } from '../building/building.ts';
import { act, type HandAct } from '../building/hands.ts';
import { withBridge } from '../building/places.ts';

/**
 * An act as whoever has done it often does it: at a detector the ends that a resistor leaves in the row are made
 * through, and a wire for a terminal with a resistor on it goes on the resistor's free leg. A card that says neither
 * is done all the same.
 */
export function layAsPractised(building: Building, one: HandAct): Building {
  if (one.do === 'remove-resistor') return madeThrough(building, act(building, one), one.resistor);
  return one.do === 'land' ? landBehindResistor(building, one) : act(building, one);
}

function landBehindResistor(building: Building, one: Extract<HandAct, { do: 'land' }>): Building {
  const behind = (at: string) => building.landings.get(at) ?? at;
  const slips = building.slips.map((slip) => ({ ...slip, goes: behind(slip.goes) }));
  const isSlip = slips.some(({ meant }) => meant === one.at);
  return act({ ...building, slips }, isSlip ? one : { ...one, at: behind(one.at) });
}

/** At the panel the bare ends go to the new board instead. */
function madeThrough(before: Building, after: Building, id: string): Building {
  const resistor = before.resistors.get(id);
  if (resistor === undefined || resistor.stands === 'across' || resistor.place === 'panel') return after;
  return withBridge(after, `through:${id}`, resistor.a, resistor.b);
}
