import { type Conductor, parseConductor } from '../electrical/conductor.ts';
import { parseQuantity, type QuantityKind } from '../electrical/quantity.ts';

type Scale = { readonly unit: string; readonly times: number; readonly from: number };

/** How a practitioner writes a figure: the largest unit that leaves no leading noughts. */
const SCALES: Record<QuantityKind, readonly Scale[]> = {
  ohms: [
    { unit: 'Mohm', times: 1e-6, from: 1e6 },
    { unit: 'kohm', times: 1e-3, from: 1e3 },
    { unit: 'ohm', times: 1, from: 0 },
  ],
  volts: [{ unit: 'V', times: 1, from: 0 }],
  amps: [
    { unit: 'A', times: 1, from: 1 },
    { unit: 'mA', times: 1e3, from: 0 },
  ],
  metres: [
    { unit: 'm', times: 1, from: 1 },
    { unit: 'mm', times: 1e3, from: 0 },
  ],
  ampHours: [{ unit: 'Ah', times: 1, from: 0 }],
  seconds: [
    { unit: 'h', times: 1 / 3600, from: 7200 },
    { unit: 'min', times: 1 / 60, from: 60 },
    { unit: 's', times: 1, from: 1 },
    { unit: 'ms', times: 1e3, from: 0 },
  ],
  celsius: [{ unit: '°C', times: 1, from: -1e9 }],
  fraction: [{ unit: '%', times: 100, from: 0 }],
  squareMillimetres: [{ unit: 'mm2', times: 1, from: 0 }],
};

/**
 * Writes a figure so that reading it again gives exactly the same figure.
 *
 * @example writeQuantity(2200, 'ohms') // => '2k2'
 * @example writeQuantity(0.015, 'amps') // => '15 mA'
 * @example writeQuantity(900, 'seconds') // => '15 min'
 */
export function writeQuantity(value: number, kind: QuantityKind): string {
  const exact = (text: string) => {
    const read = parseQuantity(text, kind);
    return read.ok && read.value === value;
  };
  const scales = SCALES[kind].filter((scale) => Math.abs(value) >= scale.from);
  const texts = [12, 15, 17].flatMap((digits) =>
    scales.flatMap(({ unit, times }) => {
      const figure = Number((value * times).toPrecision(digits));
      const code = unit === 'kohm' && figure < 100 ? letterCode(figure) : null;
      return [...(code === null ? [] : [code]), `${figure} ${unit}`];
    }),
  );
  const short = texts.filter((text) => text.length <= 10);
  return [...short, ...texts].find(exact) ?? texts.at(-1)!;
}

/** `2k2` for 2.2 kohm, as on the parts themselves (IEC 60062). */
function letterCode(kilohms: number): string | null {
  const [whole, tenths = ''] = String(kilohms).split('.');
  return tenths.length > 1 ? null : `${whole}k${tenths}`;
}

/** Writes a conductor's size so that reading it again gives the same: by its strands where it was given so. */
export function writeConductor(conductor: Conductor): string {
  const strands = /\((.+)\)$/.exec(conductor.name)?.[1];
  const same = (text: string) => {
    const read = parseConductor(text);
    return read.ok && read.value.areaSquareMillimetres === conductor.areaSquareMillimetres;
  };
  return [conductor.name, ...(strands === undefined ? [] : [strands])].find(same) ?? conductor.name;
}
