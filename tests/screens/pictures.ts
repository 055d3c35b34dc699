import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Terminal } from '@xterm/headless';
import { render } from 'ink';
import { createElement } from 'react';
import { realSystem } from '../../source/journal/system.ts';
import { createStore, type Store } from '../../source/screens/app/store.ts';
import { composeTop, Screens } from '../../source/screens/app/view.tsx';
import { shelfOf } from '../../source/screens/shelf.ts';
import { FrameStream } from '../../source/screens/terminal/frame-stream.ts';
import { appOf, keys } from './drive.ts';
import { leadTo } from './lead.ts';
import { svgOf } from './svg.ts';

export type Picture = {
  readonly name: string;
  readonly shows: string;
  readonly svg: string;
  readonly text: string;
};

const SIZE = { columns: 100, rows: 30 };

/** Ten screens of the demo, each as a terminal's buffer holds it. Led by keys; nothing in them tells the time. */
export async function takePictures(): Promise<readonly Picture[]> {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-pictures-'));
  const studio = new Studio(folder);
  const { press, take } = studio;
  try {
    await take('jobs', 'The first screen: jobs, a new survey, the demo');
    studio.pick('new');
    press(
      ...'Club',
      'enter',
      '1',
      '2',
      '3',
      '1',
      '2',
      '1',
      '3',
      '1',
      'enter',
      '2',
      ...'Store',
      'enter',
      ...'8 9',
      'enter',
    );
    await take('survey', 'Survey entry: one question at a time, what the plan would find beside it');
    press('escape');
    studio.pick('demo');
    await take('briefing', 'Coming to a job: who, since when, supply, warnings, what is next');
    press('p');
    await take('plan', 'The plan: verdict and findings');
    press('3');
    await take('supply', 'The plan: what the board, its battery and each detector get');
    press('escape', '1', ...'Nadia', 'enter', '2', 'enter', ...'0.3', 'enter');
    studio.leadTo('supply.isolate');
    await take('isolate', 'A step with its cautions');
    studio.leadTo('measure.z1');
    press('0', 'enter', '2', 'enter', '0', 'enter', '2', 'enter', ...'4.33');
    await take('reading', 'A reading, its window, and where the entry falls');
    press('left', 'left', 'left', 'left', 'f');
    await take('far', 'The far view');
    press('enter', ...'2200', 'enter', 'right', 'enter', 'right', 'enter');
    await take('diagnosis', 'A reading that does not fit: what may be behind it');
    press('2');
    studio.leadTo('rewire.c1');
    await take('rewire', 'Rewiring: where the conductor goes on the new board');
    return studio.taken;
  } finally {
    studio.close();
    rmSync(folder, { recursive: true, force: true });
  }
}

class Studio {
  readonly taken: Picture[] = [];
  readonly #store: Store;

  constructor(folder: string) {
    const shelf = shelfOf(folder, realSystem());
    this.#store = createStore(appOf(SIZE), { shelf, saveSettings: () => {} });
  }

  pick(value: string): void {
    this.#store.dispatch({ type: 'picked', value });
  }

  readonly press = (...labels: readonly string[]): void => {
    for (const key of keys(...labels)) this.#store.keys([key]);
  };

  leadTo(step: string): void {
    leadTo(this.#store, step);
  }

  readonly take = async (name: string, shows: string): Promise<void> => {
    const terminal = new Terminal({ cols: SIZE.columns, rows: SIZE.rows - 1, allowProposedApi: true });
    let written = '';
    const stream = new FrameStream(
      SIZE,
      (bytes) => {
        written += bytes;
      },
      () => composeTop(this.#store.get()).cursor,
    );
    const ink = render(createElement(Screens, { store: this.#store }), {
      stdout: stream as unknown as NodeJS.WriteStream,
      stdin: deaf(),
      exitOnCtrlC: false,
      patchConsole: false,
      debug: true,
    });
    stream.end();
    ink.unmount();
    await new Promise<void>((done) => terminal.write(written, done));
    const rows = Array.from(
      { length: terminal.rows },
      (_, row) => terminal.buffer.active.getLine(row)?.translateToString(true).trimEnd() ?? '',
    );
    this.taken.push({ name, shows, svg: svgOf(terminal), text: rows.join('\n').trimEnd() });
    terminal.dispose();
  };

  close(): void {
    this.#store.close();
  }
}

// Ink wants a terminal to listen to; here nobody types.
function deaf(): NodeJS.ReadStream {
  const stream = {
    isTTY: true,
    setRawMode: () => stream,
    setEncoding: () => stream,
    ref: () => stream,
    unref: () => stream,
    read: () => null,
    on: () => stream,
    off: () => stream,
    addListener: () => stream,
    removeListener: () => stream,
  };
  return stream as unknown as NodeJS.ReadStream;
}
