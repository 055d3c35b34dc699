import type { Connection, Plan } from '../plan.ts';
import { remember } from '../remember.ts';
import { jointName } from './words.ts';

/** Where a conductor goes, as one would say it over one's shoulder. */
export function goesWords(plan: Plan, connection: Connection): string {
  const { to, by } = connection;
  if ('parked' in to) return parkedWords(plan, connection);
  if ('joint' in to) return `splice ${jointName(to.joint)}`;
  if ('stays' in to) return isLifeSafety(plan, connection) ? 'STAYS, gate first' : 'stays';
  const how = {
    direct: '',
    extension: ', extended',
    pigtail: ', by pigtail',
    block: ', by block',
    splice: ', spliced',
    parked: '',
    untouched: '',
  }[by];
  return `${to.board} ${to.terminal}${how}`;
}

/** Why a conductor goes nowhere: nothing needs it any more, or the boards have no place for what it serves. */
function parkedWords(plan: Plan, { conductor }: Connection): string {
  if (telephoneCores(plan).has(conductor)) return 'park, see telephone';
  if (homeless(plan).has(conductor)) return 'NO INPUT FOR IT';
  return 'park, insulated';
}

/** Detectors that no input is left for: only where there are too few. */
export const detectorsWithoutInput = remember((plan: Plan): readonly string[] => {
  if (!plan.findings.some(({ code }) => code === 'too-few-inputs')) return [];
  const held = new Set(plan.heldOut.map(({ detector }) => detector));
  const placed = new Set(plan.circuits.flatMap(({ detectors }) => detectors));
  return plan.survey.zones
    .flatMap(({ detectors }) => detectors)
    .filter((id) => !held.has(id) && !placed.has(id));
});

const homeless = remember((plan: Plan) => {
  const without = new Set(detectorsWithoutInput(plan));
  const zones = new Set(
    plan.survey.zones.filter(({ detectors }) => detectors.some((id) => without.has(id))).map(({ id }) => id),
  );
  return new Set(
    plan.wiring.conductors
      .filter(({ for: device, zone }) => without.has(device ?? '') && (zone === null || zones.has(zone)))
      .map(({ id }) => id),
  );
});

const telephoneCores = remember(
  ({ wiring }: Plan) =>
    new Set(wiring.conductors.filter(({ use }) => use === 'telephone').map(({ id }) => id)),
);

function isLifeSafety(plan: Plan, connection: Connection): boolean {
  return plan.heldOut.length > 0 && 'terminal' in connection.from;
}
