import type { Conductor } from '../electrical/conductor.ts';

/** A 12 V DC input board as its file describes it, in SI units, under the id it has at this site. */
export type Board = {
  readonly id: string;
  readonly name: string;
  readonly generic: boolean;
  readonly supply: {
    readonly kind: 'dc';
    readonly accepts: { readonly fromVolts: number; readonly toVolts: number };
    readonly maximumAmps: number;
  };
  readonly adapter: {
    readonly volts: number;
    readonly tolerance: number;
    readonly amps: number;
    readonly lead: string | null;
  };
  readonly own: { readonly standbyAmps: number };
  readonly inputs: readonly BoardInput[];
  /** Shortest change an input reports. */
  readonly responseSeconds: number;
  readonly sensing: {
    readonly pullUpOhms: number;
    readonly referenceVolts: number;
    readonly closedBelowVolts: number;
    readonly openAboveVolts: number;
    readonly pullUpTolerance: number;
    readonly inputMaximumVolts: number;
  };
  readonly supervision: null | {
    readonly style: 'series' | 'two-resistor';
    readonly resistorOhms: number;
    readonly alarmResistorOhms: number | null;
    readonly window: number;
  };
  readonly aux: {
    readonly positive: string;
    readonly negative: string;
    readonly amps: number;
    readonly mainsVolts: number;
    readonly mainsTolerance: number;
    readonly dropFromBatteryVolts: number;
  };
  readonly sounder: null | {
    readonly positive: string;
    readonly negative: string;
    readonly amps: number;
    readonly sense: 'positive-applied' | 'positive-removed' | 'negative-applied' | 'negative-removed';
    readonly limitSeconds: number | null;
  };
  readonly battery: null | {
    readonly volts: number;
    readonly capacityAmpHours: number;
    readonly cutOffVolts: number;
    readonly floatVolts: number;
    readonly chargeAmps: number;
  };
  readonly terminals: { readonly from: Conductor; readonly to: Conductor; readonly conductors: number };
  readonly mounting: { readonly insulate: boolean };
  readonly network: 'wired' | 'wireless' | 'either';
};

export type BoardInput = { readonly id: string; readonly terminal: string; readonly common: string };
