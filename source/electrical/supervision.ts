import { type Bounds, contains, overlaps, within } from './interval.ts';

/** How an input supervises its loop: by the resistors it knows, each in a window of its own. */
export type Supervision = {
  readonly style: 'series' | 'two-resistor';
  readonly resistorOhms: number;
  /** `null`: the same as the end resistor. Of a `two-resistor` input alone. */
  readonly alarmResistorOhms: number | null;
  /** Fraction to either side. */
  readonly window: number;
};

export type SupervisedReading = 'normal' | 'alarm' | 'shorted' | 'cut' | 'between';

/**
 * What a supervised loop must read at rest, and worked: one resistor at rest; worked, none or a break where
 * there is one resistor, and where there are two, both in a row (normally closed) or side by side.
 *
 * @example supervisionWindows({style: 'two-resistor', resistorOhms: 1000, alarmResistorOhms: null, window: 0.1}).alarm // => [{min: 450, max: 550}, {min: 1800, max: 2200}]
 */
export function supervisionWindows(supervision: Supervision): { normal: Bounds; alarm: readonly Bounds[] } {
  const { style, resistorOhms, window } = supervision;
  const around = (ohms: number): Bounds => {
    const { min, max } = within(ohms, window);
    return { min, max };
  };
  const normal = around(resistorOhms);
  if (style === 'series') {
    return {
      normal,
      alarm: [
        { min: 0, max: normal.min },
        { min: normal.max, max: Number.POSITIVE_INFINITY },
      ],
    };
  }
  const alarmOhms = supervision.alarmResistorOhms ?? resistorOhms;
  const sideBySide = 1 / (1 / resistorOhms + 1 / alarmOhms);
  return { normal, alarm: [around(sideBySide), around(resistorOhms + alarmOhms)] };
}

/**
 * What a supervised input makes of a resistance. With one resistor a short and a break are all that a worked
 * contact can give, so they are `shorted` and `cut`, and which of them is the alarm the contact decides.
 *
 * @example supervisedReads(2000, {style: 'two-resistor', resistorOhms: 1000, alarmResistorOhms: null, window: 0.1}) // => 'alarm'
 * @example supervisedReads(2200, {style: 'series', resistorOhms: 2200, alarmResistorOhms: null, window: 0.2}) // => 'normal'
 */
export function supervisedReads(ohms: number, supervision: Supervision): SupervisedReading {
  const { normal, alarm } = supervisionWindows(supervision);
  if (contains(normal, ohms)) return 'normal';
  if (supervision.style === 'series') return ohms < normal.min ? 'shorted' : 'cut';
  if (alarm.some((window) => contains(window, ohms))) return 'alarm';
  if (ohms < alarm[0]!.min) return 'shorted';
  return ohms > alarm[1]!.max ? 'cut' : 'between';
}

/**
 * The alarm window that has a reading in common with the window at rest, if any: such an input cannot tell the two
 * apart. Of the two alarm windows the first is that of a normally open contact, the second of a normally closed one.
 *
 * @example overlappingAlarm({style: 'two-resistor', resistorOhms: 1000, alarmResistorOhms: 100, window: 0.1}, 'normally-closed') // => {min: 990, max: 1210}
 */
export function overlappingAlarm(
  supervision: Supervision,
  sense: 'normally-closed' | 'normally-open',
): Bounds | null {
  if (supervision.style === 'series') return null;
  const { normal, alarm } = supervisionWindows(supervision);
  const window = alarm[sense === 'normally-open' ? 0 : 1]!;
  return overlaps(normal, window) ? window : null;
}
