import type { OpenStep, TypedValue } from '../../job/action.ts';
import type { Building } from '../building/building.ts';
import { workCard } from './card.ts';
import type { StandingFault, Visit } from './visit.ts';
import type { Port } from './work.ts';

type Named = readonly { readonly cause: string; readonly says: string; readonly try: string }[];

/** About how long it takes to find and mend something. Common practice, no source. */
const SECONDS = 900;

/** A card that was carried out: the building before it, and what was typed. */
export type Done = {
  readonly step: OpenStep;
  readonly before: Building;
  readonly values: Readonly<Record<string, TypedValue>>;
};

/**
 * Goes after the causes in the order they are named, then looks for whatever else it could be: what is found is
 * put right by hand, or the survey is corrected.
 *
 * @returns the faults found
 */
export function follow(visit: Visit, done: Done, causes: Named): StandingFault[] {
  const rank = ({ name }: StandingFault) => {
    const at = causes.findIndex(({ cause }) => cause === name);
    return at < 0 ? causes.length : at;
  };
  const standing = visit.faults.filter(({ mended }) => !mended).sort((a, b) => rank(a) - rank(b));
  const showing = standing.find((fault) => showsHere(visit, done, fault));
  // What hides behind another fault is found by whoever follows all the wires of the card.
  return showing === undefined ? standing.filter((fault) => isNamedOn(done.step, fault)) : [showing];
}

/** Whether the card's answers would be others without the fault: whoever looks for it there finds it. */
function showsHere(visit: Visit, { step, before, values }: Done, fault: StandingFault): boolean {
  const { mend } = fault.placed;
  if (mend.by === 'survey') return isNamedOn(step, fault);
  const without = workCard({ ...visit, building: mend.to(before) }, step);
  return JSON.stringify(without) !== JSON.stringify(values);
}

/** Whether the card is about what the fault sits in. */
function isNamedOn(step: OpenStep, fault: StandingFault): boolean {
  const text = JSON.stringify([step.id, step.acts, step.proof]);
  return fault.placed.about.some((id) => text.includes(`"${id}"`) || step.id.endsWith(`.${id}`));
}

/** Puts a fault right, or the survey, and says so in the record. */
export function putRight(port: Port, visit: Visit, fault: StandingFault, step: string): void {
  const { mend } = fault.placed;
  fault.mended = true;
  visit.seconds += SECONDS;
  if (mend.by === 'hand') {
    visit.building = mend.to(visit.building);
    port.act({ do: 'note', text: `Found and put right: ${mend.says}.`, step });
  } else {
    port.act({ do: 'correct', reason: `Found on the spot: ${mend.says}.`, set: mend.set });
  }
}
