import { render } from 'ink-testing-library';
import { afterEach, expect, test } from 'vitest';
import { ALL_JOBS } from '../../source/screens/app/state.ts';
import { createStore } from '../../source/screens/app/store.ts';
import { Screens } from '../../source/screens/app/view.tsx';
import { appOf } from './drive.ts';
import { shelfWith, smallJob } from './small-job.ts';

let app: ReturnType<typeof render> | null = null;
afterEach(() => app?.unmount());

function shown() {
  const shelf = shelfWith(smallJob());
  const store = createStore(
    { ...appOf({ columns: 80, rows: 24 }), jobs: shelf.list(ALL_JOBS) },
    { shelf, saveSettings: () => {} },
  );
  store.dispatch({ type: 'picked', value: 'demo' });
  app = render(<Screens store={store} />);
  return app;
}

const plain = (frame: string | undefined) => (frame ?? '').replaceAll(/\x1b\[[\d;]*m/g, '');

/** The next frame, without waiting for a time: the bench of Ink writes each as it is drawn. */
function nextFrame(frames: readonly string[], drawn: number): Promise<void> {
  return new Promise((done) => {
    const look = () => (frames.length > drawn ? done() : setImmediate(look));
    look();
  });
}

test('what is typed reaches the screen through the one place of Ink that hears keys', async () => {
  const { stdin, frames, lastFrame } = shown();
  expect(plain(lastFrame())).toContain('where the job stands');
  await nextFrame(frames, 0);
  let drawn = frames.length;
  stdin.write('p');
  await nextFrame(frames, drawn);
  expect(plain(lastFrame())).toContain('Findings');
  drawn = frames.length;
  stdin.write('\x1b');
  await nextFrame(frames, drawn);
  expect(plain(lastFrame())).toContain('where the job stands');
});
