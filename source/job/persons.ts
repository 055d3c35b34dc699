import type { System } from '../journal/system.ts';
import { commitmentTo, SITE } from './name-book.ts';
import { isSameName, type Private, personId, readPrivate, writePrivate } from './private.ts';
import type { Replay } from './replay.ts';

const SALT_BYTES = 16;

/** What a record holds of the names that it is the first to be made for, by id. */
type Names = Readonly<Record<string, string>>;

/** Who is who in a job: ids from the record, names from the private file, which may have been erased. */
export class Persons {
  readonly #dir: string;
  readonly #replay: Replay;
  readonly #system: System;

  constructor(dir: string, replay: Replay, system: System) {
    this.#dir = dir;
    this.#replay = replay;
    this.#system = system;
  }

  /** The id of somebody whom the record knows, by id or by name; null for anybody else. */
  idOf(who: string): string | null {
    const { names } = this.#replay;
    if (names.has(who)) return who;
    return personId(names.vouchedFor(this.#held), who);
  }

  /**
   * Ids for names, new ones for those that the record does not know; the same name gets the same id. A new id is one
   * that nothing has ever stood under, in the record or beside it: whoever was to be recorded when a program was
   * killed keeps theirs, and names of records that damage hides are not written over.
   */
  idsFor(names: readonly string[]): string[] {
    const held = this.#held;
    const taken = Object.keys(held.persons).map((id) => Number(id.slice(1)) || 0);
    let count = Math.max(this.#replay.names.highest, ...taken);
    const given = new Map<string, string>();
    for (const name of names) {
      const known = given.get(name) ?? this.idOf(name) ?? this.#unrecorded(held, name);
      if (known === null) count += 1;
      given.set(name, known ?? `p${count}`);
    }
    return names.map((name) => given.get(name) ?? '');
  }

  /** Keeps names by id before a record speaks of them. @returns what the record then holds of them */
  keep(names: Readonly<Record<string, string>>): Names {
    const held = this.#held;
    const { bound } = this.#replay.names;
    const said = Object.entries(names).filter(([id, name]) => id !== name && !bound.has(id));
    if (said.length === 0) return {};
    // Of somebody whom an earlier version recorded, the name that stands there is the one that was matched.
    const persons: Record<string, string> = { ...held.persons };
    const salts: Record<string, string> = { ...held.salts };
    for (const [id, name] of said) {
      persons[id] ??= name;
      salts[id] ??= drawSalt(this.#system);
    }
    writePrivate(this.#dir, { ...held, persons, salts }, this.#system.files);
    return Object.fromEntries(said.map(([id]) => [id, commitmentTo(id, persons[id], salts[id] ?? '')]));
  }

  /** Keeps another place beside the one that is in force, until the record is made for it. */
  keepSite(site: NonNullable<Private['site']>): Names {
    const held = this.#held;
    const salt = drawSalt(this.#system);
    const now = this.#replay.names.siteOf(held);
    const before = now === null ? undefined : { site: now, salt: saltOf(held, now) };
    const salts = { ...held.salts, [SITE]: salt };
    writePrivate(
      this.#dir,
      { ...held, site, salts, ...(before === undefined ? {} : { before }) },
      this.#system.files,
    );
    return { [SITE]: commitmentTo(SITE, site, salt) };
  }

  /** Keeps but the place that the record was made for: what a correction has replaced is not kept on. */
  settleSite(): void {
    const { before, ...held } = this.#held;
    if (before === undefined) return;
    const site = this.#replay.names.siteOf({ ...held, before });
    if (site === null) return;
    const salt = site === held.site ? held.salts?.[SITE] : before.salt;
    const salts = { ...held.salts, ...(salt === undefined ? {} : { [SITE]: salt }) };
    writePrivate(this.#dir, { ...held, site, salts }, this.#system.files);
  }

  /** Whoever was to be recorded under an id when a program was killed, and comes again. */
  #unrecorded(held: Private, name: string): string | null {
    const { names } = this.#replay;
    const isWaiting = (id: string): boolean => !names.has(id) && !names.bound.has(id);
    return (
      Object.entries(held.persons).find(([id, kept]) => isWaiting(id) && isSameName(kept, name))?.[0] ?? null
    );
  }

  get #held(): Private {
    return readPrivate(this.#dir);
  }
}

/** Random bytes that make a name impossible to guess from what the record holds of it. */
export function drawSalt(system: System): string {
  return Buffer.from(system.random(SALT_BYTES)).toString('hex');
}

function saltOf(held: Private, site: NonNullable<Private['site']>): string {
  return (site === held.site ? held.salts?.[SITE] : held.before?.salt) ?? '';
}
