import type { WiredConductor } from '../../wiring/wiring.ts';
import { listed } from '../findings/words.ts';
import type { Plan } from '../plan.ts';
import { heading, paragraph } from './layout.ts';

/** Keypads and the telephone line: which of their conductors come off, which stay, and what becomes of the rest. */
export function linesText(plan: Plan, columns: number): string[] {
  const lines = [
    ...plan.survey.keypads.map(({ id, cable }) => keypadWords(plan, id, cable)),
    ...telephoneWords(plan),
  ];
  if (lines.length === 0) return [];
  return [
    ...heading('Keypads and telephone line', columns),
    ...lines.flatMap((line) => paragraph(line, columns, '', '  ')),
  ];
}

function keypadWords(plan: Plan, id: string, cable: string): string {
  if (plan.heldOut.some(({ detector }) => detector === id))
    return `Keypad ${id} (${cable}): ${listed(atPanel(plan, cable).map(nameOf))} all stay on their screws, untouched: what its emergency keys do is settled first.`;
  const from = plan.survey.cables.find((one) => one.id === cable)?.from ?? 'panel';
  if (from !== 'panel')
    return `Keypad ${id} (${cable}): joined to ${from} out in the building; nothing of it is at the panel. It goes dead with what ${from} serves: take it off the wall, or mark it so.`;
  const parked = parkedOf(plan, cable);
  if (parked.length === 0) return `Keypad ${id} (${cable}): none of its conductors comes off.`;
  return `Keypad ${id} (${cable}): ${comeOff(parked)}. The keypad is dead from then on: take it off the wall, or mark it so.`;
}

function telephoneWords(plan: Plan): string[] {
  const cables = new Set(
    plan.wiring.conductors.filter(({ use }) => use === 'telephone').map(({ cable }) => cable),
  );
  return [...cables].map((cable) => {
    const parked = parkedOf(plan, cable);
    return `Telephone line (${cable}): unplug it at its network interface before its wires are touched. ${comeOff(parked)}, and none goes to a new board. Then plug the line in again at the interface, past the panel, and hear the dial tone at a telephone: the panel may have sat in series with all of them.`;
  });
}

/** Of a cable's conductors those that nothing needs any more. */
function parkedOf(plan: Plan, cable: string): WiredConductor[] {
  const parked = new Set(
    plan.connections.filter(({ by }) => by === 'parked').map(({ conductor }) => conductor),
  );
  return atPanel(plan, cable).filter(({ id }) => parked.has(id));
}

function comeOff(conductors: readonly WiredConductor[]): string {
  return `${listed(conductors.map(nameOf))} come off their screws, each insulated by itself and left long`;
}

function atPanel({ wiring }: Plan, cable: string): WiredConductor[] {
  return wiring.conductors.filter((one) => one.cable === cable && one.atPanel);
}

function nameOf({ id, colour }: WiredConductor): string {
  return `${id} ${colour}`;
}
