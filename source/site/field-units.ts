import type { QuantityKind, Units } from '../electrical/quantity.ts';

/** What each field of a survey measures, by its path; a star stands for an id or a place in a list. */
const FIELDS: Readonly<Record<string, QuantityKind>> = {
  'conditions.cableTemperature': 'celsius',
  'conditions.batteryTemperature': 'celsius',
  'policy.holdUp': 'seconds',
  'policy.alarm': 'seconds',
  'policy.batteryMargin': 'fraction',
  'policy.interruption': 'seconds',
  'panel.feedVoltage': 'volts',
  'panel.batteries.*.capacity': 'ampHours',
  'panel.slack': 'metres',
  'network.backup': 'seconds',
  'zones.*.loop.resistor': 'ohms',
  'zones.*.loop.alarmResistor': 'ohms',
  'zones.*.loop.bridges.*': 'ohms',
  'tampers.*.loop.resistor': 'ohms',
  'tampers.*.loop.alarmResistor': 'ohms',
  'tampers.*.loop.bridges.*': 'ohms',
  'detectors.*.pulse': 'seconds',
  'detectors.*.supply.standby': 'amps',
  'detectors.*.supply.alarm': 'amps',
  'detectors.*.supply.minimum': 'volts',
  'detectors.*.supply.maximum': 'volts',
  'detectors.*.supply.warmUp': 'seconds',
  'cables.*.length': 'metres',
  'sounders.*.current': 'amps',
  'sounders.*.minimum': 'volts',
  'sounders.*.strobe.current': 'amps',
  'sounders.*.holdOff.current': 'amps',
};
const PATHS = Object.entries(FIELDS).map(([path, kind]) => ({ parts: path.split('.'), kind }));

/** What a field of the survey measures; null where it holds words or a count. */
export function quantityOfField(path: string): QuantityKind | null {
  const asked = path.split('.');
  const isOf = (parts: readonly string[]) =>
    parts.length === asked.length && parts.every((part, at) => part === '*' || part === asked[at]);
  return PATHS.find(({ parts }) => isOf(parts))?.kind ?? null;
}

/** The unit of a figure that somebody types bare; none where it could be meant in several, hours or minutes. */
const BARE: Readonly<Partial<Record<QuantityKind, Readonly<Record<Units, string>>>>> = {
  ohms: { metric: 'ohm', imperial: 'ohm' },
  volts: { metric: 'V', imperial: 'V' },
  amps: { metric: 'mA', imperial: 'mA' },
  ampHours: { metric: 'Ah', imperial: 'Ah' },
  metres: { metric: 'm', imperial: 'ft' },
  celsius: { metric: '°C', imperial: '°F' },
};

/**
 * The unit that a figure of this quantity has where it is typed without one: the same wherever a survey is entered,
 * edited or corrected. Null where it has to be typed.
 */
export function bareUnit(kind: QuantityKind, units: Units): string | null {
  return BARE[kind]?.[units] ?? null;
}

/**
 * What was typed for a field, as the survey's file writes it: a bare figure gets the unit that its field has.
 *
 * @example withFieldUnit('zones.z1.loop.resistor', '4700', 'metric') // => '4700 ohm'
 * @example withFieldUnit('panel.slack', '0,2', 'metric') // => '0.2 m'
 */
export function withFieldUnit(path: string, typed: string, units: Units): string {
  const kind = quantityOfField(path);
  return kind === null ? typed : withBareUnit(kind, typed, units);
}

/** The same for a figure whose quantity is known. */
export function withBareUnit(kind: QuantityKind, typed: string, units: Units): string {
  const figure = typed.trim();
  const unit = bareUnit(kind, units);
  return unit !== null && /^-?\d+([.,]\d+)?$/.test(figure) ? `${figure.replace(',', '.')} ${unit}` : typed;
}
