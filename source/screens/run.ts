import { writeSync } from 'node:fs';
import { isatty } from 'node:tty';
import { render } from 'ink';
import { createElement } from 'react';
import { ALL_JOBS, type App, FIRST_SCREEN, top } from './app/state.ts';
import { createStore, type Store } from './app/store.ts';
import { composeTop, Screens, tooSmall } from './app/view.tsx';
import { livePort } from './live/session.ts';
import type { JobShelf } from './port.ts';
import { DEFAULT_SETTINGS, type ScreenSettings, settingsFor } from './settings.ts';
import { FrameStream } from './terminal/frame-stream.ts';
import { ENTER, LEAVE } from './terminal/painter.ts';
import { textFor } from './terminal/shown-text.ts';
import { SUPPLY_WORDS } from './words.ts';

// What stands on the normal screen afterwards.
const tell = (text: string) => textFor(process.env, false)(text);

export type Start =
  | { readonly kind: 'jobs' }
  | { readonly kind: 'job'; readonly dir: string }
  | { readonly kind: 'demo' }
  /** `file`: the one to change; null for a new one. */
  | { readonly kind: 'survey'; readonly file: string | null };

export type ScreensContext = {
  /** With the sheet that labels are laid out for, which only the documents need. */
  readonly settings?: Partial<ScreenSettings> & { readonly labelSheet?: string };
  readonly saveSettings?: (settings: ScreenSettings) => void;
};

/**
 * Shows the screens on a shelf of jobs until the person leaves. Whatever ends them, the terminal is as it was,
 * and what was recorded is recorded.
 *
 * @returns the program's exit code
 */
export async function runScreens(start: Start, shelf: JobShelf, context: ScreensContext): Promise<number> {
  const linear = process.env.INK_SCREEN_READER === 'true';
  const settings = settingsFor({ ...DEFAULT_SETTINGS, ...context.settings }, process.env);
  const store = createStore(firstApp(shelf, settings, linear), {
    shelf,
    saveSettings: (chosen) => context.saveSettings?.(chosen),
    live: (tell) => livePort(process.env, tell),
    ring: () => send('\u0007'),
  });
  const run = linear ? showLinear : showFull;
  if (start.kind === 'job') store.dispatch({ type: 'picked', value: `job ${start.dir}` });
  if (start.kind === 'demo') store.dispatch({ type: 'picked', value: 'demo' });
  if (start.kind === 'survey')
    store.dispatch({ type: 'picked', value: start.file === null ? 'new' : `edit ${start.file}` });
  // Asked for one thing that cannot be opened: said on the normal screen, without a flash of another one.
  if (start.kind !== 'jobs' && top(store.get()).kind === 'jobs') {
    trySend(2, `${tell(store.get().notice?.says ?? 'This cannot be opened.')}\n`);
    return 3;
  }
  const code = await run(store);
  const { job } = store.get();
  store.close();
  if (isTerminalGone()) leaveWithIt();
  if (job) trySend(1, `${tell(standing(job))}\n`);
  return code;
}

function isTerminalGone(): boolean {
  return !isatty(0) && !isatty(1);
}

// Node would set a terminal back that is gone, and end over it by an abort of its own: so it ends as a program ends that
// nobody asked to outlive its terminal. What was to be done at the end is done before.
function leaveWithIt(): void {
  process.emit('exit', SIGNALS.SIGHUP);
  process.removeAllListeners('SIGHUP');
  process.kill(process.pid, 'SIGHUP');
  // Told to outlive it (nohup): there is nothing left to do.
  process.kill(process.pid, 'SIGKILL');
}

function firstApp(shelf: JobShelf, settings: ScreenSettings, linear: boolean): App {
  return {
    size: sizeOf(process.stdout),
    settings,
    linear,
    jobs: shelf.list(ALL_JOBS),
    surveys: shelf.surveys(),
    job: null,
    stack: [FIRST_SCREEN],
    causes: {},
    drafts: {},
    notice: null,
    exit: null,
  };
}

/** Where a job stands, for the normal screen. */
function standing(job: NonNullable<App['job']>): string {
  const { next } = job;
  if (next.closed) return `${job.siteName}: closed. The record stands in ${job.dir}`;
  const supply = next.supply === 'dead' ? SUPPLY_WORDS.unproven : SUPPLY_WORDS[next.supply];
  return [
    `${job.siteName}: ${next.done} of ${next.total} done. Supply: ${supply.says.toLowerCase()}.`,
    `Everything confirmed is recorded in ${job.dir}`,
    `Go on with: loopward resume ${job.dir}`,
  ].join('\n');
}

function showFull(store: Store): Promise<number> {
  const stream = new FrameStream(sizeOf(process.stdout), send, () => cursorOf(store));
  const onResize = () => {
    const size = sizeOf(process.stdout);
    stream.resize(size);
    store.dispatch({ type: 'resized', ...size });
  };
  send(ENTER);
  process.stdout.on('resize', onResize);
  const ink = render(createElement(Screens, { store }), {
    stdout: stream as unknown as NodeJS.WriteStream,
    exitOnCtrlC: false,
    patchConsole: false,
    // Every frame comes as it is, also where CI is set; the stream paints what changed.
    debug: true,
  });
  return untilEnd(store, ink, () => {
    process.stdout.off('resize', onResize);
    stream.end();
    send(LEAVE);
  });
}

// For a screen reader the rows follow each other on the normal screen, as Ink speaks them.
function showLinear(store: Store): Promise<number> {
  const ink = render(createElement(Screens, { store }), {
    exitOnCtrlC: false,
    patchConsole: false,
    isScreenReaderEnabled: true,
  });
  return untilEnd(store, ink, () => {});
}

type Ended = { readonly code: number; readonly says: string | null };
const SIGNALS = { SIGTERM: 143, SIGHUP: 129, SIGINT: 130 } as const;

// Every way out comes through here once: quit, Ctrl+C, signals, a lost terminal, a defect.
function untilEnd(store: Store, ink: ReturnType<typeof render>, restore: () => void): Promise<number> {
  return new Promise((resolve) => {
    let over = false;
    const end = ({ code, says }: Ended) => {
      if (over) return;
      over = true;
      unsubscribe();
      restore();
      unmount(ink);
      process.off('exit', restore);
      process.off('uncaughtException', crashed);
      process.off('unhandledRejection', crashed);
      for (const signal of Object.keys(SIGNALS) as (keyof typeof SIGNALS)[]) process.off(signal, onSignal);
      if (says !== null) process.exitCode = code;
      if (says !== null) trySend(2, `${tell(says)}\n`);
      process.stdin.unref?.();
      resolve(code);
    };
    const crashed = (error: unknown) => {
      const what = error instanceof Error ? error.message : String(error);
      end({
        code: 1,
        says: `A defect in the program ended the screens: ${what}. Nothing that was confirmed is lost.`,
      });
    };
    const onSignal = (signal: NodeJS.Signals) =>
      end({ code: SIGNALS[signal as keyof typeof SIGNALS] ?? 1, says: null });
    const unsubscribe = store.subscribe(() => {
      const { exit } = store.get();
      if (exit !== null) end({ code: exit, says: null });
    });
    for (const signal of Object.keys(SIGNALS) as (keyof typeof SIGNALS)[]) process.once(signal, onSignal);
    process.once('uncaughtException', crashed);
    process.once('unhandledRejection', crashed);
    process.once('exit', restore);
    process.stdin.once('end', () => end({ code: 129, says: null }));
    ink.waitUntilExit().then(() => end({ code: 0, says: null }), crashed);
  });
}

// What cannot be drawn cannot be taken down in order either; the terminal is restored by then.
function unmount(ink: ReturnType<typeof render>): void {
  try {
    ink.unmount();
  } catch {
    // Already told.
  }
}

function cursorOf(store: Store): { row: number; column: number } | null {
  const app = store.get();
  return tooSmall(app) ? null : composeTop(app).cursor;
}

function sizeOf(stdout: { columns?: number; rows?: number }): { columns: number; rows: number } {
  return { columns: stdout.columns || 80, rows: stdout.rows || 24 };
}

function send(text: string): void {
  trySend(1, text);
}

// Written at once and whole, so that a signal in between leaves no half of it; a terminal that is gone takes nothing.
function trySend(to: 1 | 2, text: string): void {
  let rest = Buffer.from(text);
  while (rest.length > 0) {
    try {
      rest = rest.subarray(writeSync(to, rest));
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EAGAIN') return;
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2);
    }
  }
}
