import type { OpenStep } from '../../job/action.ts';
import type { StandingFault, Visit } from './visit.ts';
import type { Port } from './work.ts';

type Named = readonly { readonly cause: string; readonly says: string; readonly try: string }[];

/**
 * Goes after the causes in the order they are named, then looks for whatever else could be: what is found is put
 * right by hand, or the survey is corrected.
 *
 * @returns names of the faults found
 */
export function follow(port: Port, visit: Visit, step: OpenStep, causes: Named): string[] {
  const standing = visit.faults.filter(({ mended }) => !mended);
  for (const { cause } of causes) {
    const fault = standing.find(({ name }) => name === cause);
    if (fault !== undefined && isFoundHere(step, fault)) return [putRight(port, visit, fault, step)];
  }
  const fault = standing.find((one) => isFoundHere(step, one));
  return fault === undefined ? [] : [putRight(port, visit, fault, step)];
}

/** Whoever follows the wires of a card comes past what they touch. */
function isFoundHere(step: OpenStep, fault: StandingFault): boolean {
  const text = JSON.stringify([step.id, step.acts, step.proof]);
  return fault.placed.about.length === 0 || fault.placed.about.some((id) => text.includes(id));
}

function putRight(port: Port, visit: Visit, fault: StandingFault, step: OpenStep): string {
  const { mend } = fault.placed;
  fault.mended = true;
  visit.seconds += 600;
  if (mend.by === 'hand') {
    visit.building = mend.to(visit.building);
    port.act({ do: 'note', text: mend.says, step: step.id });
  } else {
    port.act({ do: 'correct', reason: mend.says, set: mend.set });
  }
  return fault.name;
}
