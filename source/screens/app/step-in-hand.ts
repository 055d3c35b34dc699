import type { App } from './state.ts';

/** The step that is worked on or looked at; null where there is none. */
export function stepInHand(app: App): string | null {
  for (const screen of app.stack.toReversed()) {
    if (screen.kind === 'step') return screen.looking ?? screen.step;
    if (screen.kind === 'form' || screen.kind === 'diagnosis' || screen.kind === 'far') return screen.step;
  }
  return null;
}
