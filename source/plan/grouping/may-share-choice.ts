import { computeGrouping } from './group.ts';
import type { Unit } from './units.ts';

/** More zones than this on one input tell nobody anything. */
const MOST_TOGETHER = 6;

/** One way of letting zones share with which the inputs suffice. */
type ShareChoice = { readonly zones: readonly (readonly string[])[]; readonly loss: number };

/**
 * Looks for zones that could share: those of like company whose alarms matter least, as few to a set as will do. One choice, not the best of all: who may share is for the owner to say.
 */
export function shareThatFits(
  units: readonly Unit[],
  mayShare: readonly (readonly string[])[],
  inputs: number,
): ShareChoice | null {
  const zones = new Map<string, { company: string; importance: number }[]>();
  for (const unit of units.filter(({ company }) => !company.startsWith('alone:')))
    zones.set(unit.zone, [...(zones.get(unit.zone) ?? []), unit]);
  const single = [...zones].filter(
    ([id, own]) =>
      new Set(own.map(({ company }) => company)).size === 1 && !mayShare.some((set) => set.includes(id)),
  );
  const weight = (own: readonly { importance: number }[]) =>
    own.reduce((sum, { importance }) => sum + importance, 0);
  const waiting = single
    .map(([id, own]) => ({ id, company: own[0]!.company, weight: weight(own) }))
    .sort((a, b) => a.weight - b.weight);
  const shortage = computeGrouping(units, mayShare, inputs).fewestInputs - inputs;
  for (let together = 2; together <= MOST_TOGETHER; together++) {
    const sets = setsThatSave(waiting, together, shortage);
    if (sets === null) continue;
    const grouped = computeGrouping(units, [...mayShare, ...sets], inputs);
    if (grouped.fewestInputs <= inputs) return { zones: sets, loss: grouped.loss };
  }
  return null;
}

/** Sets of up to `together` zones of one company, the lightest first, until they save enough inputs. */
function setsThatSave(
  zones: readonly { readonly id: string; readonly company: string }[],
  together: number,
  shortage: number,
): string[][] | null {
  const open = new Map<string, string[]>();
  const sets: string[][] = [];
  let saved = 0;
  for (const { id, company } of zones) {
    const set = open.get(company);
    if (set) {
      set.push(id);
      saved += 1;
      if (set.length === together) open.delete(company);
    } else {
      const started = [id];
      open.set(company, started);
      sets.push(started);
    }
    if (saved >= shortage) return sets.filter((one) => one.length > 1);
  }
  return null;
}
