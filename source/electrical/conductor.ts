/** A copper conductor by its size. `name` is how it was written and how it is shown: `22 AWG`, `0.22 mm2`. */
export type Conductor = {
  readonly name: string;
  readonly areaSquareMillimetres: number;
  readonly system: 'awg' | 'metric';
};
