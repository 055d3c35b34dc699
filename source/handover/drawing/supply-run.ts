import type { Plan, SounderSupply } from '../../plan/plan.ts';

/** One powered detector on a supply run: how far along it sits and what arrives there. */
export type RunPoint = SounderSupply & { readonly name: string; readonly metres: number };

/** A run of cable from the board outwards: the detectors on one home run and its branches, nearest first. */
export type SupplyRun = {
  readonly board: string;
  readonly cable: string;
  readonly points: readonly RunPoint[];
};

/** The supply runs of a plan, each with its detectors in order of distance from the board. */
export function supplyRuns(plan: Plan): SupplyRun[] {
  const cables = new Map(plan.survey.cables.map((cable) => [cable.id, cable]));
  const homeRun = (id: string): { root: string; metres: number } => {
    const cable = cables.get(id);
    if (cable === undefined) return { root: id, metres: 0 };
    if (cable.from === 'panel') return { root: id, metres: cable.lengthMetres };
    const above = homeRun(cable.from);
    return { root: above.root, metres: above.metres + cable.lengthMetres };
  };
  return plan.supply.flatMap((supply) => {
    const runs = new Map<string, RunPoint[]>();
    for (const device of supply.devices) {
      const detector = plan.survey.detectors.find((d) => d.id === device.id);
      if (detector === undefined) continue;
      const { root, metres } = homeRun(detector.cable);
      const { id, minimumVolts, mainsVolts, batteryEndVolts, worstVolts, bestVolts } = device;
      const point = {
        id,
        name: detector.name,
        metres,
        minimumVolts,
        mainsVolts,
        batteryEndVolts,
        worstVolts,
        bestVolts,
      };
      runs.set(root, [...(runs.get(root) ?? []), point]);
    }
    return [...runs].map(([cable, points]) => ({
      board: supply.board,
      cable,
      points: points.toSorted((a, b) => a.metres - b.metres),
    }));
  });
}
