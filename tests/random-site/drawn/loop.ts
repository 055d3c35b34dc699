import type { Fields } from './drawing.ts';

export type Sense = 'normally-closed' | 'normally-open';
export type Style = 'plain' | 'series' | 'across' | 'mixed' | 'two-resistor' | 'bridged';
export type Device = {
  readonly id: string;
  readonly sense: Sense;
  readonly powered: boolean;
  readonly fields: Fields;
};
export type Loop = {
  readonly zone: string;
  readonly style: Style;
  readonly isAcross: (device: Device) => boolean;
  /** The device that has the loop's resistor, how it is set there, and Ω. */
  readonly end: { readonly at: string; readonly by: 'part' | 'jumper'; readonly ohms: number } | null;
  readonly alarmOhms: number;
  readonly bridges: Record<string, number>;
};
/** Two bare ends between which more of a loop goes: out and back. */
export type Ends = { readonly out: string; readonly back: string };
export type Feed = { readonly positive: string; readonly negative: string } | null;

/** Where the resistor of a loop sits, if it has one, and Ω. */
export type Place = { readonly kind: 'panel' | 'part' | 'jumper' | 'field' | 'none'; readonly ohms: number };
