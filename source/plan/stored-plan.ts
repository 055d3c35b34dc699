import type { BoardSupply, Plan } from './plan.ts';
import { barePoint, withSuspects } from './points/suspects.ts';
import { remember } from './remember.ts';

/**
 * A plan as text, member by member, as a job keeps it: what was printed once must not change because a later version would
 * plan otherwise. Suspects are left out and worked out when asked for: they are most of a plan and no fact of the job.
 */
export type StoredPlan = ReadonlyMap<string, string>;

/** The place of a site is erasable, and so is told from elsewhere. */
const NO_SITE = { name: '(erased)', reference: '' };

/** A plan in its stored form, without the place of its site and without suspects. */
export function storePlan(plan: Plan): StoredPlan {
  const kept = {
    ...plan,
    survey: { ...plan.survey, site: NO_SITE },
    points: plan.points.map(barePoint),
  };
  return new Map(Object.entries(kept).map(([member, value]) => [member, toText(value)]));
}

/**
 * The plan of its stored form.
 *
 * @param site its place; null where it was erased or is not to be told
 * @throws Error where a member is missing or no JSON
 */
export function takeUpPlan(stored: StoredPlan, site: Plan['survey']['site'] | null): Plan {
  const plan = Object.fromEntries([...stored].map(([member, text]) => [member, JSON.parse(text)])) as Plan;
  const survey = site === null ? plan.survey : { ...plan.survey, site };
  return {
    ...plan,
    survey,
    supply: plan.supply.map(withArriving),
    points: withSuspects(plan.points, survey),
  };
}

/** The wiring as found of a stored plan, by itself; made once. */
export const storedWiring = remember(
  (stored: StoredPlan) => JSON.parse(stored.get('wiring') ?? '') as Plan['wiring'],
);

/** Plans of before sounders and the worst copper were reckoned hold none of them: what they held stands for both. */
function withArriving(supply: BoardSupply): BoardSupply {
  const devices = supply.devices.map((device) => {
    const lowest = Math.min(device.mainsVolts, device.batteryEndVolts);
    return { ...device, worstVolts: device.worstVolts ?? lowest, bestVolts: device.bestVolts ?? lowest };
  });
  return { ...supply, devices, sounders: supply.sounders ?? [] };
}

/**
 * Where a circuit is open a window has no end, and JSON no word for that. A number too great for any double is read back
 * as what it stands for, by this program and most others.
 */
const ENDLESS = '1e999';
const ENDLESS_MARK = '\u0000endless\u0000';

function toText(value: unknown): string {
  const text = JSON.stringify(value, (member, one: unknown) => {
    if (typeof one !== 'number' || Number.isFinite(one)) return one;
    if (Number.isNaN(one)) throw new RangeError(`The plan has no figure for ${member}.`);
    return `${one < 0 ? '-' : ''}${ENDLESS_MARK}`;
  });
  const mark = JSON.stringify(ENDLESS_MARK).slice(1, -1);
  return text.replaceAll(`"${mark}"`, ENDLESS).replaceAll(`"-${mark}"`, `-${ENDLESS}`);
}

/** One line a member: its name, a blank, its JSON, which has no line ends of its own. */
export function storedPlanToText(stored: StoredPlan): string {
  return [...stored].map(([member, text]) => `${member} ${text}`).join('\n');
}

/** What {@link storedPlanToText} wrote. */
export function textToStoredPlan(text: string): StoredPlan {
  const lines = text === '' ? [] : text.split('\n');
  return new Map(lines.map((line) => [line.slice(0, line.indexOf(' ')), line.slice(line.indexOf(' ') + 1)]));
}
