import { renderToString } from 'ink';
import { createElement } from 'react';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { createStore, type Store } from '../../source/screens/app/store.ts';
import { Screens } from '../../source/screens/app/view.tsx';
import type { Key, KeyName } from '../../source/screens/keys/key.ts';
import type { JobPort } from '../../source/screens/port.ts';
import type { ScreenSettings } from '../../source/screens/settings.ts';
import { appOf } from './app-of.ts';
import { shelfWith, smallJob } from './small-job.ts';

export { appOf } from './app-of.ts';

export type Size = { readonly columns: number; readonly rows: number };

const NAMES: readonly string[] = [
  'up',
  'down',
  'left',
  'right',
  'enter',
  'escape',
  'tab',
  'erase',
  'page-up',
  'page-down',
  'home',
  'end',
];

/** Keys by name, or a sign by itself: `keys('1', 'enter')`. */
export function keys(...labels: readonly string[]): Key[] {
  return labels.map((label) =>
    label.startsWith('ctrl+')
      ? { name: 'ctrl', char: label.slice(5), pasted: false }
      : NAMES.includes(label)
        ? { name: label as KeyName, char: '', pasted: false }
        : { name: 'char', char: label, pasted: false },
  );
}

/** Screens on a job, driven key by key without a terminal. */
export function drive(
  job: JobPort = smallJob(),
  size: Size = { columns: 80, rows: 24 },
  settings: Partial<ScreenSettings> = {},
  linear = false,
) {
  const shelf = shelfWith(job);
  const store = createStore(
    { ...appOf(size, settings, linear), jobs: shelf.list(ALL_JOBS) },
    { shelf, saveSettings: () => {} },
  );
  store.dispatch({ type: 'picked', value: 'demo' });
  return {
    store,
    press: (...labels: readonly string[]) => {
      for (const key of keys(...labels)) store.keys([key]);
      return store.get();
    },
    pick: (value: string) => store.dispatch({ type: 'picked', value }),
    picture: () => picture(store),
  };
}

/** The keys that say who is working, on the small job. */
export const SHIFT = ['enter', '1', 'enter', '2', 'enter', '0', '.', '4', 'enter'] as const;

/** On the small job: who is working is said, the occupants told, the battery off; the proof of dead is asked for. */
export const TO_PROOF = [...SHIFT, '1', 'enter', '2', 'enter', '7', 'enter'] as const;

/** And dead is proved: the first reading is asked for. */
export const TO_DEAD = [...TO_PROOF, ...'0.02', 'enter', '1', 'enter', '1', '4', 'enter'] as const;

/** What a terminal would show, as text without its colours. */
export function picture(store: Store): string {
  const { columns } = store.get().size;
  const shown = renderToString(createElement(Screens, { store }), { columns });
  return shown
    .split('\n')
    .map((row) => row.replaceAll(/\x1b\[[\d;]*m/g, '').trimEnd())
    .join('\n');
}
