import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { realSystem } from '../../source/journal/system.ts';
import { type App, type StepScreen, top, withTop } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { composeTop } from '../../source/screens/app/view.tsx';
import { plain } from '../../source/screens/draw/line.ts';
import { shelfOf } from '../../source/screens/shelf.ts';
import { appOf, keys } from './drive.ts';
import { startShift } from './lead.ts';
import { answersTo } from './typist.ts';

const SIZES = [
  { columns: 60, rows: 20 },
  { columns: 80, rows: 24 },
  { columns: 120, rows: 40 },
  { columns: 200, rows: 60 },
];

const squeezed = (text: string) => text.replaceAll(/\s+/g, ' ');

/** Everything a card shows, over all its pages. */
function pagesOf(app: App, screen: StepScreen): string[] {
  const first = composeTop(app);
  return Array.from({ length: first.turn.of }, (_, page) => {
    const { above, below } = composeTop(withTop(app, { ...screen, page }));
    return [...above, ...below].map(plain).join('\n');
  });
}

test('every card of the demo, at every size: its action always in sight, its cautions and purpose on some page, nothing over the last row', () => {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-cards-'));
  const store = createStore(appOf({ columns: 80, rows: 24 }), {
    shelf: shelfOf(folder, realSystem()),
    saveSettings: () => {},
  });
  const seen = new Set<string>();
  try {
    store.dispatch({ type: 'picked', value: 'demo' });
    startShift(store);
    for (let turn = 0; turn < 300; turn++) {
      const app = store.get();
      const screen = top(app);
      if (screen.kind === 'challenge') for (const key of keys('2', 'enter')) store.keys([key]);
      if (screen.kind === 'challenge') continue;
      if (screen.kind !== 'step' || screen.step === null) break;
      const open = app.job!.next.open.find((one) => one.id === screen.step)!;
      const step = app.job!.steps.find((one) => one.id === screen.step)!;
      for (const size of SIZES) {
        const pages = pagesOf({ ...app, size }, screen);
        for (const page of pages) {
          expect(page.split('\n').length).toBeLessThanOrEqual(size.rows - 1);
          expect(squeezed(page)).toContain(squeezed(open.title));
        }
        const all = squeezed(pages.join('\n'));
        expect(all).toContain(squeezed(screen.entry.fields[screen.entry.at]!.label));
        // Sources stand apart from what the cautions say, and whole where they stand at all.
        const says = step.cautions.map(({ text }) => text);
        for (const text of says) expect(all).not.toContain(`${squeezed(text)} (`);
        const isSourced = all.includes('Sources of the cautions') || (size.rows === 60 && says.length > 0);
        const sources = isSourced ? step.cautions.flatMap(({ source }) => source.split('; ')) : [];
        const told = [...says, ...sources, open.why];
        for (const word of told.flatMap((text) => text.split(' '))) expect(all).toContain(word);
      }
      seen.add(open.id);
      for (const key of keys(...answersTo(open))) store.keys([key]);
    }
  } finally {
    store.close();
    rmSync(folder, { recursive: true, force: true });
  }
  expect(seen.size).toBeGreaterThan(70);
});
