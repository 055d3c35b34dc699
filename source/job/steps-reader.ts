import type { JournalRecord } from '../journal/record.ts';
import type { Step } from '../procedure/step.ts';
import { type Basis, BasisReader } from './basis.ts';

/** The steps of a job as its records bring them, for telling what a record is about. Struck ones stay known. */
export class StepsReader {
  readonly #bases = new BasisReader();
  readonly #steps = new Map<string, Step>();
  #basis: Basis | null = null;
  /** The set whose steps are to be read before the next question; null where all are. */
  #unread: number | null = 0;

  take(record: JournalRecord): void {
    if (record.kind === 'basis') this.#bases.take(record.data);
    if (record.kind !== 'correct' || typeof record.data.set !== 'number') return;
    this.#read();
    this.#unread = record.data.set;
  }

  find(id: string): Step | undefined {
    this.#read();
    return this.#steps.get(id);
  }

  #read(): void {
    if (this.#unread === null) return;
    try {
      this.#basis = this.#bases.read(this.#unread, this.#basis);
    } catch {
      // One file of a journal by itself, or a job that was never opened to its end: records still tell themselves.
      return;
    }
    this.#unread = null;
    for (const step of this.#basis.procedure.steps) this.#steps.set(step.id, step);
  }
}
