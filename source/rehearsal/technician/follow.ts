import type { Acted, OpenStep, TypedValue } from '../../job/action.ts';
import { judgeProof } from '../../procedure/judge.ts';
import type { Building } from '../building/building.ts';
import { mended } from '../building/faults/fault.ts';
import { type Card, workCard } from './card.ts';
import type { StandingFault, Visit } from './visit.ts';
import type { Port } from './work.ts';

type Named = readonly { readonly cause: string; readonly says: string; readonly try: string }[];

/** About how long it takes to find and mend something. Common practice, no source. */
const SECONDS = 900;

/** A card that was carried out: the building before it, and what was typed. */
export type Done = {
  readonly step: Card;
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
  const one = standing.find((fault) => shows(visit, done, [fault]));
  if (one !== undefined) return [one];
  // What hides behind another fault shows only once both are put right.
  if (!shows(visit, done, standing)) return [];
  return standing.filter((fault) => {
    const others = standing.filter((other) => other !== fault);
    return !shows(visit, done, others);
  });
}

/** Whether an answer of the card would be right without these faults: whoever looks for them there finds them. */
function shows(visit: Visit, done: Done, faults: readonly StandingFault[]): boolean {
  const outside = outsideOf(done.step, done.values);
  const without = faults.reduce((building, { placed }) => placed.mend.to(building), done.before);
  if (without === done.before) return false;
  const left = outsideOf(done.step, workCard({ ...visit, building: without }, done.step));
  return [...outside].some(([field, how]) => how > (left.get(field) ?? 0));
}

/** Fields whose answer does not fit: 1 where it is only not as expected, 2 where it did not pass. */
export function outsideOf(
  step: Pick<OpenStep, 'proof'>,
  values: Readonly<Record<string, TypedValue>>,
): Map<string, 1 | 2> {
  const judged = judgeProof(step, values);
  if (!judged.ok) return new Map();
  const outside = judged.fields.filter(
    ({ verdict, fall }) => verdict === 'failed' || verdict === 'unexpected' || fall.is === 'odd',
  );
  return new Map(outside.map(({ field, verdict }) => [field, verdict === 'failed' ? 2 : 1]));
}

/** Puts a fault right, or the survey, and says so in the record. */
export function putRight(port: Port, visit: Visit, fault: StandingFault, step: string): Acted {
  const { mend } = fault.placed;
  fault.mended = true;
  visit.seconds += SECONDS;
  visit.building = mended(visit.building, mend);
  return mend.by === 'hand'
    ? port.act({ do: 'note', text: `Found and put right: ${mend.says}.`, step })
    : port.act({
        do: 'correct',
        reason: `Found on the spot: ${mend.says}.`,
        seen: `${mend.says}.`,
        set: mend.set,
      });
}
