import { groupBy } from '../site/pairs.ts';
import type { WiredConductor } from '../wiring/wiring.ts';

/** What is labelled on one card: the cables of a zone, or a cable that serves more than one. */
export type LabelGroup = {
  readonly card: string;
  readonly cables: readonly string[];
  readonly conductors: readonly WiredConductor[];
};

/** The cards that label all that ends at the panel. */
export function groupLabels(all: readonly WiredConductor[]): LabelGroup[] {
  const zones = zonesOfCables(all);
  const groups = groupBy(
    all.filter((one) => one.atPanel),
    ({ cable }) => zones.get(cable) ?? cable,
  );
  return [...groups.values()].map((conductors) => ({
    card: `label.${conductors[0]?.cable}`,
    cables: [...new Set(conductors.map((one) => one.cable))],
    conductors,
  }));
}

/** The zone of each cable that serves one zone alone. */
function zonesOfCables(all: readonly WiredConductor[]): ReadonlyMap<string, string> {
  const zones = new Map<string, string>();
  for (const [cable, conductors] of groupBy(all, (one) => one.cable)) {
    const [zone, ...more] = new Set(conductors.flatMap((one) => one.zone ?? []));
    if (zone !== undefined && more.length === 0) zones.set(cable, zone);
  }
  return zones;
}
