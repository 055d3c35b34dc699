import { mkdtempSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { type IPty, spawn } from '@lydell/node-pty';
import { Terminal } from '@xterm/headless';
import { build } from 'esbuild';
import { PROGRAM } from '../../.config/bundle.mjs';

const ROOT = resolve(import.meta.dirname, '../..');
const PATIENCE_MILLISECONDS = 30_000;

const scratch: string[] = [];
process.once('exit', () => {
  for (const dir of scratch) rmSync(dir, { recursive: true, force: true });
});

/** A folder that goes away with the process. */
export function scratchFolder(): string {
  const dir = mkdtempSync(join(tmpdir(), 'loopward-screens-'));
  scratch.push(dir);
  return dir;
}

/** Bundles an entry as it ships, with the fixtures beside it. Returns the file to run. */
export async function bundled(entry: string): Promise<string> {
  const dir = scratchFolder();
  symlinkSync(join(ROOT, 'fixtures'), join(dir, 'fixtures'));
  const outfile = join(dir, 'dist', 'entry.js');
  const { outdir: _, ...shipped } = PROGRAM;
  await build({ ...shipped, entryPoints: [entry], outfile, minify: false, sourcemap: false });
  return outfile;
}

// A frame is whole when its synchronized update ends.
const FRAME_START = '\x1b[?2026h';
const FRAME_END = '\x1b[?2026l';

export type Ended = { readonly code: number; readonly signal: number };

/** A program in a terminal of its own: what it shows, and keys to it. Nothing waits for a time, only for a change. */
export class RealTerminal {
  readonly #pty: IPty;
  readonly #screen: Terminal;
  readonly ended: Promise<Ended>;
  /** Everything that was written, with its controls. */
  raw = '';
  #frames = 0;
  #waiting = new Set<() => void>();
  #isOver = false;

  constructor(
    file: string,
    args: readonly string[],
    options: { columns?: number; rows?: number; env?: Record<string, string> } = {},
  ) {
    const { columns = 80, rows = 24, env = {} } = options;
    this.#screen = new Terminal({ cols: columns, rows, allowProposedApi: true, scrollback: 200 });
    this.#pty = spawn(process.execPath, [file, ...args], {
      cols: columns,
      rows,
      name: 'xterm-256color',
      env: {
        PATH: process.env.PATH ?? '',
        HOME: scratchFolder(),
        LANG: 'C.UTF-8',
        TERM: 'xterm-256color',
        TZ: 'UTC',
        ...env,
      },
    });
    this.#pty.onData((data) => {
      this.raw += data;
      // The mark may come in two pieces.
      const frames = this.raw.slice(-data.length - FRAME_END.length + 1).split(FRAME_END).length - 1;
      this.#screen.write(data, () => {
        this.#frames += frames;
        this.#tell();
      });
    });
    this.ended = new Promise((done) => {
      this.#pty.onExit(({ exitCode, signal }) => {
        this.#isOver = true;
        // What was still on its way to the screen is written first.
        this.#screen.write('', () => {
          this.#tell();
          done({ code: exitCode, signal: signal ?? 0 });
        });
      });
    });
  }

  #tell(): void {
    for (const check of this.#waiting) check();
  }

  get pid(): number {
    return this.#pty.pid;
  }

  /** What stands on the screen, row by row. */
  get rows(): readonly string[] {
    const buffer = this.#screen.buffer.active;
    return Array.from({ length: this.#screen.rows }, (_, row) =>
      (buffer.getLine(buffer.baseY + row)?.translateToString(true) ?? '').trimEnd(),
    );
  }

  get text(): string {
    return this.rows.join('\n').trimEnd();
  }

  get isAlternate(): boolean {
    return this.#screen.buffer.active.type === 'alternate';
  }

  /** The screen's own buffer, for its colours. */
  get terminal(): Terminal {
    return this.#screen;
  }

  send(bytes: string): void {
    this.#pty.write(bytes);
  }

  resize(columns: number, rows: number): void {
    this.#screen.resize(columns, rows);
    this.#pty.resize(columns, rows);
  }

  kill(signal: NodeJS.Signals): void {
    process.kill(this.pid, signal);
  }

  /** Sends a key and waits until the screen has changed by it. */
  async press(bytes: string): Promise<void> {
    const before = this.#state();
    const frames = this.#frames;
    this.send(bytes);
    await this.until(
      () => (this.#frames > frames && this.#isWhole && this.#state() !== before) || this.#isOver,
      `the key ${JSON.stringify(bytes)} to change something`,
    );
  }

  // Half a frame is not yet what the program shows.
  get #isWhole(): boolean {
    return this.raw.lastIndexOf(FRAME_END) >= this.raw.lastIndexOf(FRAME_START);
  }

  // The cursor counts: a blank that is typed changes nothing else.
  #state(): string {
    const { cursorX, cursorY } = this.#screen.buffer.active;
    return `${cursorX} ${cursorY} ${this.text}`;
  }

  async sees(words: string): Promise<void> {
    await this.until(() => this.#isWhole && this.text.includes(words), `to see ${JSON.stringify(words)}`);
  }

  /** Waits for something to be so; fails with what is on the screen instead. */
  until(isSo: () => boolean, what: string): Promise<void> {
    if (isSo()) return Promise.resolve();
    return new Promise((done, failed) => {
      const check = () => {
        if (isSo()) finish(done);
        else if (this.#isOver)
          finish(() =>
            failed(
              new Error(
                `The program ended while waiting for ${what}:\n${this.text}\n${this.raw.slice(-2000)}`,
              ),
            ),
          );
      };
      const timer = setTimeout(
        () => finish(() => failed(new Error(`Waited in vain for ${what}:\n${this.text}`))),
        PATIENCE_MILLISECONDS,
      );
      const finish = (then: () => void) => {
        clearTimeout(timer);
        this.#waiting.delete(check);
        then();
      };
      this.#waiting.add(check);
    });
  }

  /** Ends the program, if it still runs. */
  async close(): Promise<void> {
    if (!this.#isOver) this.#pty.kill('SIGKILL');
    await this.ended;
    this.#screen.dispose();
  }
}
