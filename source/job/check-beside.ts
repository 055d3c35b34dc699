import { existsSync, readFileSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { sha256 } from '../journal/digest.ts';
import type { JournalRecord } from '../journal/record.ts';
import { attachmentFault } from './attachments.ts';
import { NameBook, SITE } from './name-book.ts';
import { type Private, readPrivate } from './private.ts';

/** The first thing beside a record that is not as the record says. `says` goes on a sentence. */
export type BesideFault = { readonly n: number; readonly says: string };

/** How the names stand to the record, by person id and `site`. */
type Names = {
  /** The record was made for them, and they are here. */
  readonly fit: readonly string[];
  /** Another name stands here than the record was made for. */
  readonly altered: readonly string[];
  /** Not here any more, or never handed on. */
  readonly erased: readonly string[];
  /** Recorded by a version that did not bind them: they stand in `private.json` alone, whatever it says. */
  readonly unbound: readonly string[];
};

export type BesideChecked = {
  readonly attachments: number;
  readonly attachmentsChecked: boolean;
  readonly names: Names;
};

/** Holds what stands beside a record against it: attachments, ends that were put aside, names. */
export class BesideCheck {
  readonly #dir: string;
  readonly #hasAttachments: boolean;
  readonly #isBare: boolean;
  readonly #names = new NameBook();
  #attachments = 0;
  #lastKind = '';
  #fault: BesideFault | null = null;
  /** Ends put aside, until it is known that an earlier version did not carry them on into this folder. */
  #kept: (BesideFault & { readonly isMissing: boolean })[] = [];

  /** @param path a job folder, or a `journal.jsonl` */
  constructor(path: string) {
    this.#isBare = statSync(path).isFile();
    this.#dir = this.#isBare ? dirname(path) : path;
    this.#hasAttachments = !this.#isBare || existsSync(join(this.#dir, 'attachments'));
  }

  take(record: JournalRecord): void {
    this.#names.take(record);
    const { n, kind, data } = record;
    if (kind === 'repair' && !this.#isBare) this.#takeRepair(n, String(data.kept), data.sha256);
    // A version before carried no such ends along when a job went on in another folder.
    if (kind === 'open' && data.continues !== undefined && this.#lastKind !== 'seal')
      this.#kept = this.#kept.filter(({ isMissing }) => !isMissing);
    this.#lastKind = kind;
    const { path, bytes, sha256: digest } = data;
    if (typeof path !== 'string' || typeof bytes !== 'number' || typeof digest !== 'string') return;
    this.#attachments += 1;
    if (this.#fault !== null || !this.#hasAttachments) return;
    const says = attachmentFault(this.#dir, { path, bytes, sha256: digest });
    if (says !== null)
      this.#fault = { n, says: `record ${n} speaks of a file that is not as it was recorded: ${says}` };
  }

  finish(): { readonly fault: BesideFault | null; readonly checked: BesideChecked } {
    const names = this.#checkNames(readPrivate(this.#dir));
    const faults = [this.#fault, this.#kept[0] ?? null, this.#nameFault(names)];
    const checked = { attachments: this.#attachments, attachmentsChecked: this.#hasAttachments, names };
    return { fault: faults.find((fault) => fault !== null) ?? null, checked };
  }

  #takeRepair(n: number, kept: string, digest: unknown): void {
    const name = /^journal(\.\d+)?\.jsonl\.torn-\d+$/.test(kept) ? kept : null;
    const found = name === null ? null : digestOf(join(this.#dir, name));
    if (name === null || found === digest) return;
    const how = found === null ? 'is missing' : 'was altered';
    this.#kept.push({
      n,
      says: `record ${n} speaks of an end that was put aside, and ${name} ${how}`,
      isMissing: found === null,
    });
  }

  #checkNames(held: Private): Names {
    const book = this.#names;
    const names = { fit: [] as string[], altered: [] as string[], erased: [] as string[] };
    for (const id of book.bound.keys()) {
      const value = id === SITE ? held.site : held.persons[id];
      const fits = id === SITE ? book.siteOf(held) !== null : book.fits(id, value, held.salts?.[id]);
      names[value === undefined || value === null ? 'erased' : fits ? 'fit' : 'altered'].push(id);
    }
    return { ...names, unbound: [...book.unbound.keys()] };
  }

  #nameFault({ altered }: Names): BesideFault | null {
    const [id] = altered;
    if (id === undefined) return null;
    const n = this.#names.bound.get(id)!.n;
    const whom = id === SITE ? 'the place' : id;
    return { n, says: `private.json names ${whom} otherwise than record ${n} was made for` };
  }
}

/** What was found of it, in lines. */
export function besideLines({ attachments, attachmentsChecked, names }: BesideChecked): string[] {
  const { fit, altered, erased, unbound } = names;
  const list = (ids: readonly string[]): string =>
    ids.map((id) => (id === SITE ? 'the place' : id)).join(', ');
  const said = [
    fit.length > 0 ? `as the record was made for: ${list(fit)}.` : '',
    altered.length > 0 ? `ALTERED, and shown nowhere: ${list(altered)}.` : '',
    erased.length > 0 ? `not here: ${list(erased)}.` : '',
    unbound.length > 0
      ? `not bound by the record, for an earlier version made it: ${list(unbound)}. For these it proves nothing.`
      : '',
  ].filter((one) => one !== '');
  return [
    ...(said.length === 0 ? [] : [`Names: ${said.join(' ')}`]),
    ...(attachments === 0
      ? []
      : [`Files attached: ${attachments}${attachmentsChecked ? '' : ', not here and not checked'}.`]),
  ];
}

function digestOf(path: string): string | null {
  try {
    return sha256(readFileSync(path));
  } catch {
    return null;
  }
}
