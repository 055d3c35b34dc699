import { lastWord } from '../app/commands.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { type App, type StepScreen, type Turn, withTop } from '../app/state.ts';
import type { PageTurn } from '../draw/frame.ts';
import { sayAwaited } from '../entry/awaited.ts';
import type { Key } from '../keys/key.ts';
import { commandOf } from '../keys/table.ts';
import { STEP_KEYS } from './keys.ts';
import { goToStep, look, nextOpen, stepKey, takeUp, turnPage } from './state.ts';
import { viewStep } from './view.ts';

export const STEP: ScreenDef<StepScreen> = {
  keys: STEP_KEYS,
  take: (app, screen, key, turn) => stepKey(app, screen, key, turn) ?? unheard(app, screen, key, turn),
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

// A key that neither the entry nor the table knows is not dropped without a word.
function unheard(app: App, screen: StepScreen, key: Key, turn: PageTurn): Turn | null {
  if (screen.looking !== null || commandOf(STEP_KEYS, key, { app, screen, turn }) !== null) return null;
  const entry = sayAwaited(screen.entry, key);
  return entry && [withTop({ ...app, notice: null }, { ...screen, entry }), []];
}
