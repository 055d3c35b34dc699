import type { RecordedValue } from '../../source/job/records.ts';
import type { Plan } from '../../source/plan/plan.ts';
import { planToJson } from '../../source/plan/plan-to-json.ts';
import type { Proof } from '../../source/procedure/step.ts';

export type Kind = 'ohms' | 'volts' | 'amps' | 'ampHours' | 'hours' | 'seconds' | 'metres';

/** One quantity of a site: what it is called in the data, its value, and which end of a window it is, if any. */
export type Known = {
  readonly name: string;
  readonly kind: Kind;
  readonly value: number;
  readonly end: 'low' | 'high' | null;
};

const ENDINGS: readonly (readonly [RegExp, Kind])[] = [
  [/ampHours$/i, 'ampHours'],
  [/amps$/i, 'amps'],
  [/volts$/i, 'volts'],
  [/ohms$/i, 'ohms'],
  [/hours$/i, 'hours'],
  [/seconds$/i, 'seconds'],
  [/metres$/i, 'metres'],
];

/** Every quantity in data whose keys carry their units. `min` and `max` of an interval take the kind of what holds them. */
function walk(data: unknown, path: string, found: Known[]): void {
  if (typeof data === 'number' && Number.isFinite(data)) {
    const leaf = path.split('.').at(-1)!;
    const kind = ENDINGS.find(([ending]) => ending.test(leaf))?.[1];
    if (kind) found.push({ name: path, kind, value: data, end: endOf(leaf) });
    return;
  }
  if (typeof data !== 'object' || data === null) return;
  for (const [key, value] of Object.entries(data)) walk(value, `${path}.${key}`, found);
}

function endOf(leaf: string): Known['end'] {
  if (/^(usableM|m)inOhms$/.test(leaf)) return 'low';
  if (/^(usableM|m)axOhms$/.test(leaf)) return 'high';
  // The least that arrives is said as a lower bound too.
  return leaf === 'worstVolts' || leaf === 'mendedVolts' ? 'low' : null;
}

/** What the plan, its survey and its boards hold. */
export function knownOfPlan(plan: Plan): Known[] {
  const found: Known[] = [];
  walk(planToJson(plan), 'plan', found);
  walk(plan.survey, 'survey', found);
  walk(plan.boards, 'boards', found);
  const add = (name: string, kind: Kind, value: number | null | undefined, end: Known['end'] = null) => {
    if (typeof value === 'number' && Number.isFinite(value)) found.push({ name, kind, value, end });
  };
  for (const point of plan.points)
    windowOf(`points.${point.id}`, 'ohms', point.window.expected, point.window.usable, add);
  for (const circuit of plan.circuits)
    for (const window of [circuit.rest, ...Object.values(circuit.active), circuit.unpowered])
      if (window) windowOf(`circuits.${circuit.input}`, 'ohms', window.expected, window.usable, add);
  for (const { board, devices, auxAmps, alarmAmps, limitAmps } of plan.supply) {
    for (const device of devices) {
      const spare = Math.min(device.mainsVolts, device.batteryEndVolts) - device.minimumVolts;
      add(`${device.id} to spare`, 'volts', Math.abs(spare));
      add(`${device.id} minimum`, 'volts', device.minimumVolts, 'low');
      add(`${device.id} maximum`, 'volts', device.maximumVolts, 'high');
    }
    const aux = plan.boards.find(({ id }) => id === board)!.aux.amps;
    add(`${board} too much on aux`, 'amps', auxAmps - aux);
    add(`${board} too much`, 'amps', alarmAmps - limitAmps);
  }
  const lengthOf = new Map(
    plan.survey.cables.map(({ id, lengthMetres, from }) => [id, { lengthMetres, from }]),
  );
  const fromPanel = (id: string): number => {
    const cable = lengthOf.get(id);
    return cable === undefined ? 0 : cable.lengthMetres + fromPanel(cable.from);
  };
  for (const { id, cable } of plan.survey.detectors) add(`${id} from the panel`, 'metres', fromPanel(cable));
  for (const board of plan.boards) {
    add(`${board.id} adapter`, 'volts', board.adapter.volts);
    add(`${board.id} adapter`, 'amps', board.adapter.amps);
    add(`${board.id} aux`, 'amps', board.aux.amps);
    add(`${board.id} sounder`, 'amps', board.sounder?.amps);
    add(`${board.id} battery`, 'volts', board.battery?.volts);
    add(`${board.id} pull-up, half`, 'ohms', Math.round((board.sensing.pullUpOhms / 2) * 100) / 100, 'low');
    const cold = (board.aux.mainsVolts / board.aux.amps) * 0.99;
    add(`${board.id} cold aux`, 'ohms', Math.round(cold * 100) / 100, 'low');
  }
  return found;
}

type Add = (name: string, kind: Kind, value: number | null | undefined, end?: Known['end']) => void;
type Ends = { readonly min: number | null; readonly max: number | null };

function windowOf(
  name: string,
  kind: Kind,
  expected: (Ends & { readonly nominal?: number | null }) | 'open' | null,
  usable: Ends | null,
  add: Add,
): void {
  if (expected !== null && expected !== 'open') {
    add(`${name}.min`, kind, expected.min, 'low');
    add(`${name}.max`, kind, expected.max, 'high');
    add(`${name}.nominal`, kind, expected.nominal ?? null);
  }
  add(`${name}.usable.min`, kind, usable?.min, 'low');
  add(`${name}.usable.max`, kind, usable?.max, 'high');
}

const KIND_OF = { ohms: 'ohms', 'volts-dc': 'volts', 'volts-ac': 'volts', amps: 'amps' } as const;
const KIND_OF_UNIT = { ohm: 'ohms', V: 'volts', A: 'amps' } as const;

/** What cards judge by, and what the record holds of it. */
export function knownOfJob(proofs: readonly Proof[], values: readonly RecordedValue[]): Known[] {
  const found: Known[] = [];
  const add: Add = (name, kind, value, end = null) => {
    if (typeof value === 'number' && Number.isFinite(value)) found.push({ name, kind, value, end });
  };
  for (const proof of proofs)
    if (proof.kind === 'reading')
      windowOf(
        `card.${proof.field}`,
        KIND_OF[proof.of],
        { min: proof.min, max: proof.max, nominal: proof.nominal },
        proof.usable,
        add,
      );
  for (const { window, unit } of values) {
    if (!window || unit === null) continue;
    const whole = (milli: number | null) => (milli === null ? null : milli / 1000);
    const usable = { min: whole(window.usableMin), max: whole(window.usableMax) };
    windowOf('record', KIND_OF_UNIT[unit], { min: whole(window.min), max: whole(window.max) }, usable, add);
  }
  return found;
}
