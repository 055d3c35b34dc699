import type { BoardInput } from '../../site/board.ts';
import type { Group } from './group.ts';
import { clustersOf } from './seats.ts';
import { inputsOfCommons, type Question, togetherOf } from './spread.ts';

/** Up to this many sets the most of them that can lie on a common each is searched for. */
const WEIGH_SETS = 8;

/** Groups of one board that share a return; `isAll` where no other board has any of them. */
type Sharers = {
  readonly groups: readonly Group[];
  readonly isAll: boolean;
  common: string | null;
  left: number;
};

/**
 * The input of each group that stands on one board: those asked for, then in survey order the first that is
 * free and leaves a common for every set that shares a return. Where not every set finds one, the most do.
 */
export function seatOnBoard(
  question: Question,
  at: number,
  groups: readonly Group[],
): Map<Group, BoardInput> {
  const { boards, seats, tiesOf } = question;
  const { inputs } = boards[at]!;
  const chosen = new Map<Group, BoardInput>();
  for (const group of groups) if (seats.has(group)) chosen.set(group, seats.get(group)!.input);
  const taken = new Set(chosen.values());
  const free = () => inputs.filter((input) => !taken.has(input));
  const clusters = clustersOf(groups, (group) => tiesOf(group).returns).filter(({ length }) => length > 1);
  const commons = [...inputsOfCommons(boards[at]!).keys()];
  const everywhere = clustersOf(question.groups, (group) => tiesOf(group).returns);
  const sets = clusters.flatMap((cluster): Sharers[] => {
    const together = togetherOf(boards, seats, cluster);
    if (!together) return [];
    const { common, inputs: left } = together;
    const isAll = everywhere.some((one) => one.length === cluster.length && one.includes(cluster[0]!));
    return [{ groups: cluster, isAll, common: common === null ? null : commons[common]!, left }];
  });
  const whole = mostThatSit(sets, free());

  for (const group of groups) {
    if (chosen.has(group)) continue;
    const set = whole.find((one) => one.groups.includes(group));
    const input = set ? inputOf(set) : inputBeside(clusters.find((cluster) => cluster.includes(group)) ?? []);
    if (!input) continue;
    taken.add(input);
    chosen.set(group, input);
  }
  return chosen;

  function inputOf(set: Sharers): BoardInput {
    const input = free().find(({ common }) => {
      if (set.common !== null) return set.common === common;
      return canSit(
        whole.map((one) => (one === set ? { ...set, common } : one)),
        free(),
      );
    })!;
    set.common = input.common;
    set.left -= 1;
    return input;
  }

  /** Beside those it shares a return with where they are already, else where most of them have room. */
  function inputBeside(cluster: readonly Group[]): BoardInput | undefined {
    const now = free();
    const leaves = (input: BoardInput) =>
      canSit(
        whole,
        now.filter((other) => other !== input),
      );
    if (cluster.length < 2) return now.find(leaves);
    const open = now.filter(leaves);
    const held = new Set(cluster.flatMap((group) => chosen.get(group)?.common ?? []));
    const room = inputsOfCommons({ inputs: open });
    const rank = ({ common }: BoardInput) => (held.has(common) ? inputs.length : 0) + room.get(common)!;
    return [...open].sort((a, b) => rank(b) - rank(a))[0];
  }
}

/**
 * The most sets that can lie on one common each, those first that no other board has a part of: the others are apart
 * already. Of equally many the first in survey order.
 */
function mostThatSit(sets: readonly Sharers[], free: readonly BoardInput[]): Sharers[] {
  if (canSit(sets, free)) return [...sets];
  if (sets.length > WEIGH_SETS) {
    const kept: Sharers[] = [];
    const wholeFirst = [...sets].sort((a, b) => Number(b.isAll) - Number(a.isAll));
    for (const set of wholeFirst) if (canSit([...kept, set], free)) kept.push(set);
    return kept;
  }
  const subsets = Array.from({ length: 2 ** sets.length }, (_, bits) =>
    sets.filter((_set, bit) => bits & (1 << bit)),
  );
  const whole = (some: readonly Sharers[]) => some.filter(({ isAll }) => isAll).length;
  const best = subsets
    .filter((some) => canSit(some, free))
    .sort((a, b) => whole(b) - whole(a) || b.length - a.length);
  return best[0] ?? [];
}

/** Whether each set finds a common with room for all that is left of it. */
function canSit(sets: readonly Sharers[], inputs: readonly BoardInput[]): boolean {
  const order = sets
    .filter(({ left }) => left > 0)
    .sort((a, b) => Number(a.common === null) - Number(b.common === null) || b.left - a.left);
  if (order.length === 0) return true;
  const free = inputsOfCommons({ inputs });
  const sit = (at: number): boolean => {
    const set = order[at];
    if (!set) return true;
    const seen = new Set<number>();
    for (const [common, room] of free) {
      if (room < set.left || (set.common !== null && set.common !== common)) continue;
      if (set.common === null && seen.has(room)) continue;
      seen.add(room);
      free.set(common, room - set.left);
      if (sit(at + 1)) return true;
      free.set(common, room);
    }
    return false;
  };
  return sit(0);
}
