import type { App } from '../app/state.ts';

/** What a bare figure means in a field of the survey: the file itself asks for the unit. */
const UNITS: Readonly<Record<string, string>> = {
  resistor: 'ohm',
  alarmResistor: 'ohm',
  length: 'm',
  slack: 'mm',
  capacity: 'Ah',
  current: 'mA',
  standby: 'mA',
  alarm: 'mA',
  minimum: 'V',
  maximum: 'V',
  feedVoltage: 'V',
};

const IMPERIAL: Readonly<Record<string, string>> = { length: 'ft', slack: 'in' };

/**
 * The fields of the survey that a step most likely found wrong, as paths: those of its zone first, then its
 * cables and detectors.
 */
export function correctable(app: App, step: string | null): readonly string[] {
  const { about, inHand, own, cables } = aboutStep(app, step);
  const loops = inHand.flatMap(({ id, detectors: of }) => [
    `zones.${id}.loop.resistor`,
    `zones.${id}.loop.style`,
    `zones.${id}.loop.resistorAt`,
    ...(of.length > 1 ? [`zones.${id}.joined`] : []),
  ]);
  const lengths = cables
    .filter(({ id }) => about.has(id) || own.some((one) => one.cable === id))
    .map(({ id }) => `cables.${id}.length`);
  const kinds = own.map(({ id }) => `detectors.${id}.contact`);
  return [...loops, ...lengths, ...kinds].slice(0, 8);
}

/** The zones that a step is about, and the detectors of these and of its own. */
export function aboutStep({ job }: App, step: string | null) {
  const about = new Set(job?.steps.find((one) => one.id === step)?.about ?? []);
  const { zones = [], cables = [], detectors = [] } = job?.plan.survey ?? {};
  const inHand = zones.filter((zone) => about.has(zone.id) || zone.detectors.some((id) => about.has(id)));
  const own = detectors.filter(
    ({ id, cable }) =>
      about.has(id) || about.has(cable) || inHand.some((zone) => zone.detectors.includes(id)),
  );
  return { about, inHand, own, cables };
}

/**
 * A value as the survey's file writes it: a bare figure gets the unit its field has.
 *
 * @example withUnit('zones.z1.loop.resistor', '4700') // => '4700 ohm'
 */
export function withUnit(path: string, value: string, units: 'metric' | 'imperial' = 'metric'): string {
  const field = path.split('.').at(-1) ?? '';
  const unit = (units === 'imperial' ? IMPERIAL[field] : undefined) ?? UNITS[field];
  return unit !== undefined && /^\d+([.,]\d+)?$/.test(value.trim())
    ? `${value.trim().replace(',', '.')} ${unit}`
    : value;
}
