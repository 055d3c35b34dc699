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

/** What no input is left for, by loop: the detectors of a zone, or a tamper loop that is kept. Only where there are too few. */
export const withoutInput = remember((plan: Plan): ReadonlyMap<string, readonly string[]> => {
  if (!plan.findings.some(({ code }) => code === 'too-few-inputs')) return new Map();
  const held = new Set(plan.heldOut.map(({ detector }) => detector));
  const detecting = plan.circuits.filter(({ purpose }) => purpose === 'detection');
  const placed = new Set(detecting.flatMap(({ detectors }) => detectors));
  const loops = new Set(plan.circuits.map(({ fromZone }) => fromZone));
  const zones = plan.survey.zones.map(({ id, detectors }): [string, string[]] => [
    id,
    detectors.filter((one) => !held.has(one) && !placed.has(one)),
  ]);
  const tampers = plan.survey.tampers
    .filter(({ id, keep }) => keep === 'yes' && !loops.has(id) && plan.zones.some((one) => one.id === id))
    .map(({ id }): [string, string[]] => [id, [id]]);
  return new Map([...zones, ...tampers].filter(([, ids]) => ids.length > 0));
});

const homeless = remember((plan: Plan) => {
  const loops = withoutInput(plan);
  const ids = new Set([...loops.values()].flat());
  return new Set(
    plan.wiring.conductors
      .filter(({ for: device, zone }) =>
        zone === null
          ? ids.has(device ?? '')
          : loops.has(zone) && (ids.has(zone) || device === null || ids.has(device)),
      )
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
