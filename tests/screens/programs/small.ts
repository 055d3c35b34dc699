import type { JobPort } from '../../../source/screens/port.ts';
import { runScreens } from '../../../source/screens/run.ts';
import { shelfWith, smallJob } from '../small-job.ts';

/** The screens on the small job, as a program of its own: `small` [`throws` | `breaks`]. */
const job = smallJob();
const [how] = process.argv.slice(2);
const port: JobPort = {
  ...job,
  act: (action) => {
    if (how === 'throws' && action.do === 'note') throw new Error('a thing that cannot be');
    return job.act(action);
  },
  look: () => {
    const look = job.look();
    const broken = how === 'breaks' && job.acted.some((action) => action.do === 'note');
    // A state that no screen can draw.
    return broken ? { ...look, steps: null as unknown as typeof look.steps } : look;
  },
};
process.stdout.write('what stood on the screen before\n');
void runScreens({ kind: 'demo' }, shelfWith(port), {}).then((code) => {
  process.exitCode = code;
});
