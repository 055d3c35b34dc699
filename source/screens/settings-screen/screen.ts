import { foot, plainHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import type { Screen } from '../app/state.ts';
import { EMPTY, type Line, padText } from '../draw/line.ts';
import { workingRows } from '../keys/table.ts';
import type { ScreenSettings } from '../settings.ts';

const CHOICES: { readonly [K in keyof ScreenSettings]: readonly ScreenSettings[K][] } = {
  palette: ['dark', 'light', 'none'],
  glyphs: ['unicode', 'ascii'],
  units: ['metric', 'imperial'],
  bell: ['on', 'off'],
};

const ROWS = [
  { key: '1', name: 'palette', says: 'Colours for a background that is' },
  { key: '2', name: 'glyphs', says: 'Signs' },
  { key: '3', name: 'units', says: 'Lengths' },
  { key: '4', name: 'bell', says: 'Ring when a detector is heard' },
] as const;

function turned<K extends keyof ScreenSettings>(settings: ScreenSettings, name: K): ScreenSettings {
  const choices = CHOICES[name];
  const next = choices[(choices.indexOf(settings[name]) + 1) % choices.length]!;
  return { ...settings, [name]: next };
}

/** Colours, signs, units and the bell; nothing here opens a gate. */
export const SETTINGS: ScreenDef<Extract<Screen, { kind: 'settings' }>> = {
  keys: [
    ...ROWS.map(({ key, name, says }) => ({
      keys: [key],
      does: name,
      says: says.toLowerCase(),
      foot: false,
    })),
    { keys: ['enter', 'left', 'escape'], does: 'back', says: 'back', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  press: (app, _, command) => {
    const row = ROWS.find((one) => one.name === command);
    if (!row) return null;
    const settings = turned(app.settings, row.name);
    return [{ ...app, settings }, [{ do: 'save-settings', settings }]];
  },
  view: (app, screen, room) => ({
    head: plainHead('loopward', 'settings', room),
    body: [
      ...ROWS.map(
        ({ key, name, says }): Line => [
          { text: ` ${key}  `, bold: true, tone: 'focus' },
          { text: padText(says, 34) },
          { text: app.settings[name], bold: true },
        ],
      ),
      EMPTY,
      [{ text: 'Press the number to change it.', tone: 'quiet' }],
    ],
    pinned: [],
    foot: foot(workingRows(SETTINGS.keys, { app, screen }), room),
    page: 0,
  }),
};
