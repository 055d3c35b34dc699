import { sha256 } from '../journal/digest.ts';
import type { JournalRecord } from '../journal/record.ts';
import type { Private } from './private.ts';
import { byOf, eventOf, isObject, textOf } from './records.ts';

/** The id under which the record is bound to the place of the job. */
export const SITE = 'site';

/** The id of a person. */
const PERSON = /^p[1-9]\d{0,8}$/;

/**
 * What the record holds in the place of a name: nothing can be read from it, nor guessed without the salt that stands
 * beside the name and goes with it, and no other name fits it.
 *
 * @example commitmentTo('p1', 'Ada', '00').length // => 64
 */
export function commitmentTo(id: string, value: unknown, salt: string): string {
  // For a name this is the RFC 8785 form, so that `sha256sum` can check it by hand.
  return sha256(JSON.stringify({ id, salt, value: isSite(value) ? sorted(value) : value }));
}

function isSite(value: unknown): value is object {
  return typeof value === 'object' && value !== null;
}

function sorted(value: object): object {
  return Object.fromEntries(Object.entries(value).sort(([a], [b]) => (a < b ? -1 : 1)));
}

/** What a record says of an id: which name it was made for, or that the id goes without. */
export type Bound = { readonly n: number; readonly commitment: string };

/** Which names a record was made for, read from it record by record. */
export class NameBook {
  /** By person id, and `site`: what binds it, the last word counting. */
  readonly bound = new Map<string, Bound>();
  /** Ids that a record named before any bound them: a version before names were bound made it. By its number. */
  readonly unbound = new Map<string, number>();
  readonly #persons = new Set<string>();

  take(record: JournalRecord): void {
    const { names } = record.data;
    if (isObject(names))
      for (const [id, commitment] of Object.entries(names))
        if (typeof commitment === 'string' && (id === SITE || PERSON.test(id)))
          this.bound.set(id, { n: record.n, commitment });
    for (const id of personsIn(record)) {
      if (this.#persons.has(id)) continue;
      this.#persons.add(id);
      if (!this.bound.has(id)) this.unbound.set(id, record.n);
    }
  }

  /** Whether any record names this person. */
  has(id: string): boolean {
    return this.#persons.has(id);
  }

  /** The highest number of a person so far. */
  get highest(): number {
    return [...this.#persons].reduce((most, id) => Math.max(most, Number(id.slice(1))), 0);
  }

  /** Whether a name is the one that the record was made for; of what it does not bind, nobody can tell. */
  fits(id: string, value: unknown, salt: string | undefined): boolean {
    const bound = this.bound.get(id);
    return bound === undefined || (salt !== undefined && commitmentTo(id, value, salt) === bound.commitment);
  }

  /** The name of a person as far as it is known and the record was made for it; otherwise the id. */
  nameOf(id: string, { persons, salts }: Private): string {
    const name = persons[id];
    return name !== undefined && this.has(id) && this.fits(id, name, salts?.[id]) ? name : id;
  }

  /** The place, as it stands or stood before a correction that was never finished, if the record was made for it. */
  siteOf({ site, salts, before }: Private): Private['site'] {
    if (site === null || this.fits(SITE, site, salts?.[SITE])) return site;
    return before !== undefined && this.fits(SITE, before.site, before.salt) ? before.site : null;
  }

  /** Of what is held in private, what the record was made for: nothing else is ever shown as its. */
  vouchedFor(held: Private): Private {
    const persons = Object.entries(held.persons).filter(([id, name]) => this.nameOf(id, held) === name);
    return { persons: Object.fromEntries(persons), site: this.siteOf(held) };
  }
}

/** Everybody whom a record names, by id. */
function personsIn(record: JournalRecord): string[] {
  const { signatures, values } = record.data;
  const event = record.kind === 'refused' ? null : eventOf(record);
  const named = [
    byOf(record),
    event?.type === 'start-shift' ? event.person : null,
    ...(Array.isArray(signatures) ? signatures : []).map((one) =>
      isObject(one) ? textOf(one.person) : null,
    ),
    ...Object.values(isObject(values) ? values : {}).map((value) =>
      isObject(value) && value.person === true ? textOf(value.typed) : null,
    ),
  ];
  return named.filter((id): id is string => id !== null && PERSON.test(id));
}
