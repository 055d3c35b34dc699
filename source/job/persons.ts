import { personId, readPrivate, writePrivate } from './private.ts';
import type { Replay } from './replay.ts';

/** Who is who in a job: ids from the record, names from the private file, which may have been erased. */
export class Persons {
  readonly #dir: string;
  readonly #replay: Replay;

  constructor(dir: string, replay: Replay) {
    this.#dir = dir;
    this.#replay = replay;
  }

  /** The id of somebody known, by id or by name; null for anybody else. */
  idOf(who: string): string | null {
    const number = /^p([1-9]\d*)$/.exec(who)?.[1];
    if (number !== undefined && Number(number) <= this.#replay.persons) return who;
    return personId(readPrivate(this.#dir), who);
  }

  /** Ids for names, new ones for those that are not known yet; the same name gets the same id. */
  idsFor(names: readonly string[]): string[] {
    const given = new Map<string, string>();
    let count = this.#replay.persons;
    for (const name of names) {
      const known = given.get(name) ?? this.idOf(name);
      if (known === null) count += 1;
      given.set(name, known ?? `p${count}`);
    }
    return names.map((name) => given.get(name) ?? '');
  }

  /** Keeps names by id, where the id has none yet. Done before a record speaks of the id. */
  keep(names: Readonly<Record<string, string>>): void {
    const known = readPrivate(this.#dir);
    const fresh = Object.entries(names).filter(
      ([id, name]) => id !== name && known.persons[id] === undefined,
    );
    if (fresh.length === 0) return;
    writePrivate(this.#dir, { ...known, persons: { ...known.persons, ...Object.fromEntries(fresh) } });
  }
}
