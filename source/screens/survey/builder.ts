import type { Written } from '../../site/document.ts';

type Fields = { [key: string]: Written };

/** The survey's file while it grows: lists in the order of the answers, ids made from the names. */
export class SurveyBuilder {
  readonly #zones: Fields[] = [];
  readonly #detectors: Fields[] = [];
  readonly #cables: Fields[] = [];
  readonly #sounders: Fields[] = [];
  readonly #keypads: Fields[] = [];
  readonly #ids: Set<string>;
  site: Fields = {};
  outside: Fields = {};
  panel: Fields = {};
  board = 'six-paired';
  /** What the zone before answered: the standard of the next one, so that a repeat is one Enter. */
  readonly last = {
    terminals: '',
    style: '',
    resistor: '',
    at: 'panel',
    conductors: {} as Record<string, string>,
  };

  /** @param taken ids that stand in a survey already */
  constructor(taken: Iterable<string> = []) {
    this.#ids = new Set(taken);
  }

  get zoneCount(): number {
    return this.#zones.length;
  }

  /** An id from a name: short, plain, and not yet taken. */
  idFor(name: string): string {
    const plain = name
      .normalize('NFKD')
      .replaceAll(/\p{M}/gu, '')
      .toLowerCase()
      .replaceAll(/[^a-z0-9]+/g, '-')
      .replaceAll(/^-+|-+$/g, '')
      .slice(0, 20);
    const base = plain === '' ? 'device' : plain;
    return this.#free((number) => (number === 1 ? base : `${base}-${number}`));
  }

  #free(named: (number: number) => string): string {
    let number = 1;
    while (this.#ids.has(named(number))) number++;
    this.#ids.add(named(number));
    return named(number);
  }

  addCable(cable: {
    length: string;
    conductor: string;
    from?: string;
    cores: readonly (readonly [string, string])[];
  }): string {
    const id = this.#free((number) => `c${number}`);
    this.#cables.push({
      id,
      length: cable.length,
      conductor: cable.conductor,
      ...(cable.from !== undefined && { from: cable.from }),
      cores: cable.cores.map(([colour, use]) => ({ colour, use })),
    });
    return id;
  }

  addZone(zone: Fields): void {
    this.#zones.push(zone);
  }

  addDetector(detector: Fields): void {
    this.#detectors.push(detector);
  }

  addSounder(sounder: Fields): void {
    this.#sounders.push(sounder);
  }

  addKeypad(keypad: Fields): void {
    this.#keypads.push(keypad);
  }

  /** The file's fields; lists that are empty are left out. */
  get fields(): Written {
    const lists = {
      zones: this.#zones,
      detectors: this.#detectors,
      cables: this.#cables,
      sounders: this.#sounders,
      keypads: this.#keypads,
    };
    const filled = Object.fromEntries(Object.entries(lists).filter(([, list]) => list.length > 0));
    const panel = this.#zones.length > 0 ? { panel: this.panel } : {};
    return {
      format: 'loopward/survey@1',
      site: this.site,
      outside: this.outside,
      ...panel,
      ...filled,
      boards: [{ id: 'b1', file: this.board }],
    };
  }
}
