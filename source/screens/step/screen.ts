import { lastWord } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type StepScreen, withTop } from '../app/state.ts';
import { STEP_KEYS } from './keys.ts';
import { goToStep, look, nextOpen, stepKey, takeUp, turnPage } from './state.ts';
import { viewStep } from './view.ts';

export const STEP: ScreenDef<StepScreen> = {
  keys: STEP_KEYS,
  take: stepKey,
  press: (app, screen, command) => {
    switch (command) {
      case 'look-back':
        return look(app, screen, -1);
      case 'look-ahead':
        return look(app, screen, 1);
      case 'stop-looking':
        return [withTop(app, { ...screen, looking: null, page: 0 }), []];
      case 'home':
        return goToStep(app, app.job ? (nextOpen(app.job)?.id ?? null) : null);
      case 'take-up':
        return takeUp(app, screen);
      case 'quit':
        // A letter is easily pressed for something else: it asks first.
        return lastWord(app, 'quit', true);
      case 'page-down':
        return turnPage(app, 1);
      case 'page-up':
        return turnPage(app, -1);
      default:
        return null;
    }
  },
  view: viewStep,
};

export { goToStep };
