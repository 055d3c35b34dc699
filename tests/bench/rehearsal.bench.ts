import { circuitOf } from '../../source/rehearsal/building/circuit.ts';
import { drawBuilding } from '../../source/rehearsal/building/draw-building.ts';
import { readVolts } from '../../source/rehearsal/building/meter.ts';
import { rehearse } from '../../source/rehearsal/rehearse.ts';
import { demoScene, demoText } from '../rehearsal/demo-scene.ts';
import { withJob } from '../rehearsal/run-rehearsal.ts';
import { spiceVolts } from '../rehearsal/spice.ts';
import { portOf } from '../rehearsal/trial.ts';
import type { Bench } from './bench.ts';

const demo = { text: demoText, boards: ['eight-paired'] };
const scene = demoScene();
let seed = 0;

/** The demo's job opened and thrown away: what a rehearsal costs before its first card. */
const openOnly = () => withJob(demo, (job) => job.next().total);

const wholeRehearsal = () =>
  withJob(demo, (job, site) => {
    const { worked } = rehearse(portOf(job), site, 3, []);
    if (!worked.closed) throw new Error(worked.stuck.join(' '));
    return worked.confirmations;
  });

/** A building of another seed each time, so that no solved circuit is met again. */
const freshMoment = () => drawBuilding(scene.survey, scene.wiring, scene.boards, seed++);

export const benches: readonly Bench[] = [
  {
    name: 'one rehearsal of the demo, without waiting for the disk',
    target: { milliseconds: 300 },
    baseline: { name: 'the same job opened and thrown away', run: openOnly },
    subject: { name: 'loopward rehearse', run: wholeRehearsal },
  },
  {
    name: 'volts at the farthest detector of a live building',
    target: { ratio: 1 },
    baseline: {
      name: 'ngspice',
      run: () => spiceVolts(circuitOf(freshMoment(), 'dc').elements, 'post:loft.pos', 'post:loft.neg'),
    },
    subject: {
      name: 'the building and its meter',
      run: () => readVolts(freshMoment(), 'dc', 'post:loft.pos', 'post:loft.neg'),
    },
  },
];
