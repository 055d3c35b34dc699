import { bundledFile, DEMO_SURVEY } from '../job/bundled.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { planToJson } from '../plan/plan-to-json.ts';
import { planToText } from '../plan/plan-to-text.ts';
import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { showScreens } from './open-screens.ts';
import { siteOf } from './problems.ts';

/** The bundled job: in the screens, or without a terminal its plan and the way on. */
export const run: Run = (given, context) => {
  if (context.terminal && !given.json) return showScreens({ kind: 'demo' }, given, context);
  const file = bundledFile(DEMO_SURVEY);
  const { survey, boards } = siteOf(file, []);
  const plan = planChangeover(survey, boards);
  if (given.json) {
    context.out(JSON.stringify(planToJson(plan)));
    return EXIT.done;
  }
  context.out(planToText(plan, context.columns));
  context.out(`\nThis is the plan of the demo, ${file}. Go on in a terminal with: loopward demo`);
  context.out(
    `Without one: loopward start ${file} --job ./demo, then loopward next ./demo and loopward act ./demo ACTION`,
  );
  return EXIT.done;
};
