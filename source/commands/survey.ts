import type { Run } from './command.ts';
import { EXIT } from './exit.ts';
import { showScreens } from './open-screens.ts';

/** Puts a survey together in the screens, or changes one that was written by hand. */
export const run: Run = (given, context) => {
  const file = given.arguments[0] || null;
  if (context.terminal) return showScreens({ kind: 'survey', file }, given, context);
  context.err(
    'A survey is put together and changed in the screens, which need a terminal. Without one: write it by hand, as the README shows, and see it with loopward plan SURVEY.',
  );
  return EXIT.usage;
};
