import type { BoardSupply, Circuit, OhmsWindow, Plan, ZonePlan } from './plan.ts';

/** A resistance as JSON: an open circuit has no figures. */
type OhmsJson = {
  readonly open?: true;
  readonly minOhms: number | null;
  readonly nominalOhms: number | null;
  readonly maxOhms: number | null;
  readonly usableMinOhms?: number | null;
  readonly usableMaxOhms?: number | null;
};

/**
 * The plan as `loopward/plan@1`: what scripts read. Keys carry their units; a window that nobody can state has
 * null figures and is not open.
 */
export function planToJson(plan: Plan) {
  return {
    format: 'loopward/plan@1',
    site: { name: plan.survey.site.name },
    verdict: plan.verdict,
    findings: plan.findings,
    circuits: plan.circuits.map(circuitToJson),
    zones: plan.zones.map((zone) => zoneToJson(plan, zone)),
    heldOut: plan.heldOut,
    supply: plan.supply.map(supplyToJson),
    connections: plan.connections,
    terminals: plan.terminals,
    grouping: {
      loss: plan.grouping.loss,
      optimal: plan.grouping.optimal,
      bound: plan.grouping.bound,
      inputsUsed: plan.grouping.inputsUsed,
      inputsFree: plan.grouping.inputsFree,
      groups: plan.grouping.groups,
    },
    parts: plan.parts,
    assumed: plan.assumed,
  } as const;
}

export type PlanJson = ReturnType<typeof planToJson>;

function circuitToJson(circuit: Circuit) {
  const { board, input, terminal, common, contact, detectors, fromZone, purpose, split } = circuit;
  const worked = Object.values(circuit.active)[0];
  const { work, ohms, at, newOhms } = circuit.resistor;
  return {
    board,
    input,
    terminal,
    common,
    contact,
    detectors,
    fromZone,
    purpose,
    split,
    expect: {
      rest: ohmsToJson(circuit.rest),
      active: worked ? ohmsToJson(worked) : null,
      activeBy: Object.fromEntries(
        Object.entries(circuit.active).map(([id, window]) => [id, ohmsToJson(window)]),
      ),
      unpowered: circuit.unpowered && ohmsToJson(circuit.unpowered),
    },
    resistor: { work, ohms: newOhms ?? ohms, at, ...(newOhms === null ? {} : { was: ohms }) },
    ifResistorLeft: circuit.ifResistorLeft,
    margin: { closedOhms: finite(circuit.margin.closedOhms), openOhms: finite(circuit.margin.openOhms) },
  };
}

/** What each old zone must read as found, and its field side alone once the leg is lifted. */
function zoneToJson(plan: Plan, zone: ZonePlan) {
  const points = plan.points.filter((point) => point.zone === zone.id);
  const at = (id: string) => {
    const point = points.find((candidate) => candidate.id === id);
    return point ? ohmsToJson(point.window) : null;
  };
  const found = `found.${zone.id}.active.`;
  const active = points.filter(({ id }) => id.startsWith(found));
  const rest = at(`found.${zone.id}.rest`);
  const isDead = points.some(({ id, judgesContact }) => id === `found.${zone.id}.rest` && !judgesContact);
  const isTamper = plan.survey.tampers.some(({ id }) => id === zone.id);
  return {
    id: zone.id,
    lift: zone.lift,
    joins: zone.joins,
    resistor: zone.resistor,
    fitted: zone.fitted,
    supervisionLost: zone.supervisionLost,
    expect: {
      rest,
      active: Object.fromEntries(
        active.map(({ id, window }) => [id.slice(found.length), ohmsToJson(window)]),
      ),
      unpowered: isDead ? rest : null,
      tamper: isTamper ? rest : null,
      fieldSide: at(`lifted.${zone.id}.rest`),
      bare: at(`bare.${zone.id}.rest`),
    },
  };
}

function ohmsToJson({ expected, usable }: OhmsWindow): OhmsJson {
  const figures =
    expected === 'open'
      ? { open: true as const, minOhms: null, nominalOhms: null, maxOhms: null }
      : {
          minOhms: expected?.min ?? null,
          nominalOhms: expected?.nominal ?? null,
          maxOhms: expected?.max ?? null,
        };
  if (usable === null) return figures;
  return usable.max === Number.POSITIVE_INFINITY
    ? { ...figures, usableMinOhms: usable.min }
    : { ...figures, ...(usable.min > 0 ? { usableMinOhms: usable.min } : {}), usableMaxOhms: usable.max };
}

function supplyToJson(supply: BoardSupply) {
  return {
    ...supply,
    battery: supply.battery && {
      ...supply.battery,
      holdUpHours: finite(supply.battery.holdUpHours),
      rechargeHours: finite(supply.battery.rechargeHours),
    },
  };
}

/** JSON knows no infinity: nothing limits there. */
function finite(value: number): number | null {
  return Number.isFinite(value) ? value : null;
}
