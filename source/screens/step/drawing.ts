import type { Step } from '../../procedure/step.ts';
import type { OpenJob } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';

/** What the step needs to see: the screws and conductors it touches. */
export function drawStep(_job: OpenJob, _step: Step, _room: Room): readonly Line[] {
  return [];
}
