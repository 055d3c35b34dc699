import { EventEmitter } from 'node:events';
import { paint } from './painter.ts';

/** The frame's cursor, in rows and columns from the top left; null: hidden. */
type CursorOf = () => { readonly row: number; readonly column: number } | null;

/**
 * Stands between Ink and the terminal: Ink writes whole frames to it, it paints what changed. Ink's own
 * writer counts rows from where the cursor was left, which a terminal that reflows at a resize does not keep.
 */
export class FrameStream extends EventEmitter {
  readonly isTTY = false;
  columns: number;
  rows: number;
  #shown: readonly string[] | null = null;
  #isOver = false;
  readonly #send: (text: string) => void;
  readonly #cursor: CursorOf;

  constructor(size: { columns: number; rows: number }, send: (text: string) => void, cursor: CursorOf) {
    super();
    this.columns = size.columns;
    this.rows = size.rows;
    this.#send = send;
    this.#cursor = cursor;
  }

  write(frame: string): boolean {
    // Modes that a library sets on its own are no frame.
    if (this.#isOver || /^(\x1b\[\?\d+[hl])*$/.test(frame)) return true;
    const rows = frame
      .replace(/\n$/, '')
      .split('\n')
      .slice(0, Math.max(1, this.rows - 1));
    this.#send(paint(this.#shown, rows, this.#cursor()));
    this.#shown = rows;
    return true;
  }

  /** Ink writes its last frame once more when it ends: by then the terminal is somebody else's. */
  end(): void {
    this.#isOver = true;
  }

  /** The terminal has another size now: what it shows is not known any more. */
  resize(size: { columns: number; rows: number }): void {
    this.columns = size.columns;
    this.rows = size.rows;
    this.#shown = null;
    this.emit('resize');
  }
}
