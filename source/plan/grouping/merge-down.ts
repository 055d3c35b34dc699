import { mayStandTogether } from './cost.ts';
import type { Fewest } from './fewest.ts';
import { type Item, unitsOf } from './items.ts';

type Heap = { readonly items: readonly Item[]; readonly size: number; readonly importance: number };

/**
 * A good grouping for every number of groups, without proof, where some of the items may not share: from each
 * by itself the cheapest merging that is allowed, again and again; and from the fewest groups there can be the
 * most useful parting, again and again. Of the two the better one. Index: number of groups.
 */
export function mergeDown(
  items: readonly Item[],
  sharing: readonly ReadonlySet<string>[],
  fewest: Fewest,
): ({ loss: number; groups: readonly (readonly Item[])[] } | null)[] {
  const found: ({ loss: number; groups: readonly (readonly Item[])[] } | null)[] = new Array(
    items.length + 1,
  ).fill(null);
  const keep = (heaps: readonly Heap[]) => {
    const loss = heaps.reduce((sum, heap) => sum + heap.importance * (heap.size - 1), 0);
    const known = found[heaps.length];
    if (!known || loss < known.loss) found[heaps.length] = { loss, groups: heaps.map((heap) => heap.items) };
  };
  for (let heaps = items.map((item) => heapOf([item])); ; ) {
    keep(heaps);
    const merged = mergeCheapest(heaps, sharing);
    if (!merged) break;
    heaps = merged;
  }
  for (let heaps = fewest.groups.map(heapOf); ; ) {
    keep(heaps);
    const parted = partDearest(heaps);
    if (!parted) break;
    heaps = parted;
  }
  return found;
}

function heapOf(items: readonly Item[]): Heap {
  return {
    items,
    size: items.reduce((sum, { size }) => sum + size, 0),
    importance: items.reduce((sum, { importance }) => sum + importance, 0),
  };
}

function mergeCheapest(heaps: readonly Heap[], sharing: readonly ReadonlySet<string>[]): Heap[] | null {
  let least = Number.POSITIVE_INFINITY;
  let pair: readonly [number, number] | null = null;
  for (let a = 0; a < heaps.length; a++)
    for (let b = a + 1; b < heaps.length; b++) {
      const one = heaps[a]!;
      const other = heaps[b]!;
      const more = one.importance * other.size + other.importance * one.size;
      if (more >= least || !mayStandTogether(unitsOf([...one.items, ...other.items]), sharing)) continue;
      least = more;
      pair = [a, b];
    }
  if (!pair) return null;
  const [a, b] = pair;
  const merged = heapOf([...heaps[a]!.items, ...heaps[b]!.items]);
  return heaps.flatMap((heap, index) => (index === a ? [merged] : index === b ? [] : [heap]));
}

/** Takes the item out of its group that gains most by standing alone. */
function partDearest(heaps: readonly Heap[]): Heap[] | null {
  let most = -1;
  let taken: readonly [number, Item] | null = null;
  heaps.forEach(({ items, size, importance }, index) => {
    if (items.length < 2) return;
    for (const item of items) {
      const gain = item.importance * (size - item.size) + item.size * (importance - item.importance);
      if (gain <= most) continue;
      most = gain;
      taken = [index, item];
    }
  });
  if (!taken) return null;
  const [from, alone] = taken as readonly [number, Item];
  return [
    ...heaps.map((heap, index) =>
      index === from ? heapOf(heap.items.filter((item) => item !== alone)) : heap,
    ),
    heapOf([alone]),
  ];
}
