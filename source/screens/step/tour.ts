import type { SweepProof } from '../../procedure/step.ts';
import type { OpenJob } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import { inScrewOrder, screwOf } from './asked-proofs.ts';
import { placeNames } from './state.ts';

/** From so many points on a sweep is laid out as a tour; fewer are seen in the picture of the strip. */
export const TOUR_FROM = 5;

/** The points of a sweep in the order in which one meets them: screw by screw with its wires, then the rest. */
export function tourLines(job: OpenJob, { points }: SweepProof, room: Room): readonly Line[] {
  const nameOf = placeNames(job);
  const atScrew = new Map<string, string[]>();
  const loose: string[] = [];
  for (const point of inScrewOrder(job.plan, points)) {
    const screw = screwOf(job.plan, point);
    if (screw === null) {
      loose.push(nameOf(point));
      continue;
    }
    const wires = atScrew.get(screw) ?? [];
    atScrew.set(screw, wires);
    if (!point.startsWith('old:')) wires.push(nameOf(point));
  }
  const stops = [...atScrew].map(([screw, wires]) =>
    wires.length === 0 ? screw : `${screw} (${wires.join(', ')})`,
  );
  const mark = (text: string) => ({ text, bold: true });
  return [
    [mark(`Tour of ${points.length} points, screw by screw with its wires:`)],
    ...wrapMarked({ text: '  ' }, stops.join('  '), room.columns),
    ...(loose.length === 0 ? [] : wrapMarked(mark('  then  '), loose.join('  '), room.columns)),
  ];
}
