import type { Building } from './building.ts';
import { circuitOf } from './circuit.ts';

/** What an ordinary meter can show: above it an open circuit. Common practice, no source. */
const OPEN_ABOVE_OHMS = 40e6;
/** Input resistance while reading volts. Common practice, no source. */
const VOLTS_INPUT_OHMS = 10e6;
/** A load held across the leads tells an induced voltage from a real one. */
export const LOW_INPUT_OHMS = 10e3;

/** Where a lead is held: a conductor's name means its end towards the panel, wherever that is now. */
export function nodeOf(building: Building, point: string): string {
  return building.wires.get(point)?.near ?? point;
}

/**
 * Ohms between two points as the meter shows them. It passes a small current and divides, so that a voltage
 * standing there makes it show nonsense, as a real one does.
 *
 * @returns ohms, `Infinity` for an open circuit
 */
export function readOhms(building: Building, a: string, b: string): number {
  const [from, to] = [nodeOf(building, a), nodeOf(building, b)];
  const { solved } = circuitOf(building, 'dc');
  const ohms = solved.ohms(from, to);
  const testAmps = ohms < 600 ? 1e-3 : ohms < 60e3 ? 1e-4 : 1e-6;
  const shown = Number.isFinite(ohms) ? ohms + solved.volts(from, to) / testAmps : ohms;
  if (shown < -1 || shown > OPEN_ABOVE_OHMS) return Number.POSITIVE_INFINITY;
  return Math.max(0, rounded(shown * (1 + building.meter.gain) + building.meter.offsetOhms, 0.1));
}

/**
 * Volts from the second point to the first.
 *
 * @param loadOhms what the meter itself puts between the points
 */
export function readVolts(
  building: Building,
  mode: 'dc' | 'ac',
  plus: string,
  minus: string,
  loadOhms: number = VOLTS_INPUT_OHMS,
): number {
  const [from, to] = [nodeOf(building, plus), nodeOf(building, minus)];
  const { solved } = circuitOf(building, mode);
  const volts = solved.volts(from, to);
  if (volts === 0) return 0;
  const shown = (volts * loadOhms) / (loadOhms + solved.ohms(from, to));
  const { gain, offsetVolts } = building.meter;
  if (Math.abs(shown) < 0.005) return 0;
  if (mode === 'dc') return rounded(shown * (1 + gain) + offsetVolts, 0.01);
  return Math.max(0, rounded(Math.abs(shown) * (1 + gain) + offsetVolts, 0.01));
}

/** Amps out of the first point into what hangs on it, the meter in the lead of the source between the two. */
export function readAmps(building: Building, plus: string, minus: string): number {
  const { elements, solved } = circuitOf(building, 'dc');
  const [from, to] = [nodeOf(building, plus), nodeOf(building, minus)];
  const source = elements.find(
    (element) =>
      element.kind === 'voltage' && (element.plus === from || element.minus === to || element.plus === to),
  );
  if (source?.kind !== 'voltage') return 0;
  const amps = (source.volts - solved.volts(source.plus, source.minus)) / source.innerOhms;
  return rounded(amps * (1 + building.meter.gain), 0.001);
}

/** What a sweep met: the greatest value whatever its sign, and where. */
export function sweepVolts(
  building: Building,
  mode: 'dc' | 'ac',
  points: readonly string[],
  against: readonly string[],
): { greatest: number; at: string; points: number } {
  let [greatest, at] = [0, points[0] ?? ''];
  for (const point of points) {
    for (const other of against) {
      const volts = readVolts(building, mode, point, other);
      if (Math.abs(volts) > Math.abs(greatest)) [greatest, at] = [volts, point];
    }
  }
  return { greatest, at, points: points.length };
}

function rounded(value: number, resolution: number): number {
  const digits = Math.max(resolution, 10 ** (Math.floor(Math.log10(Math.abs(value) || 1)) - 3));
  return Math.round(value / digits) * digits;
}
