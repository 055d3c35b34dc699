/**
 * A figure that is only known to lie within bounds. `Infinity` in ohms is an open circuit: a break, not a
 * big number. Always `min <= nominal <= max`.
 */
export type Interval = { readonly min: number; readonly nominal: number; readonly max: number };
