import { type Composed, compose, LEAST, type Room } from '../draw/frame.ts';
import { GLYPHS } from '../draw/glyphs.ts';
import { PALETTES } from '../draw/palette.ts';
import { defOf } from './screens.ts';
import { type App, top } from './state.ts';

/** The space and the signs that a screen may draw with. */
export function roomOf(app: App): Room {
  return {
    ...app.size,
    glyphs: GLYPHS[app.settings.glyphs],
    palette: PALETTES[app.settings.palette],
    linear: app.linear,
    units: app.settings.units,
  };
}

const composed = new WeakMap<App, Composed>();

/** What is shown now. Remembered for each state, since the rows, the cursor and the next key all ask for it. */
export function composeTop(app: App): Composed {
  const held = composed.get(app);
  if (held) return held;
  const screen = top(app);
  const room = roomOf(app);
  const made = compose(defOf(screen).view(app, screen, room), room);
  composed.set(app, made);
  return made;
}

/** Whether the window is below the least that every screen fits. */
export function tooSmall(app: App): boolean {
  return !app.linear && (app.size.columns < LEAST.columns || app.size.rows < LEAST.rows);
}
