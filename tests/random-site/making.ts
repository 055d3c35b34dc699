import type { Written } from '../../source/site/document.ts';
import { Chance } from '../chance.ts';
import type { RandomSurveyOptions } from '../random-survey.ts';

export type Core = { colour: string; use: string; for?: string; at?: string };
export type Cable = { id: string; from?: string; cores: Core[] };
export type Fields = Record<string, Written>;
export type Device = {
  id: string;
  cable: Cable;
  contact: 'normally-closed' | 'normally-open';
  fields: Fields;
  powered: boolean;
};
export type Zone = { fields: Fields; devices: Device[]; style: string };

/** What a random site is made up from, while it is: all that its parts share. */
export class Making {
  readonly chance: Chance;
  readonly options: RandomSurveyOptions;
  readonly cables: Cable[] = [];
  readonly zones: Zone[] = [];
  readonly tampers: Fields[] = [];
  readonly roles = new Map<string, string>();
  needsTerminals = false;
  #screw = 10;
  #cable = 0;

  constructor(seed: number, options: RandomSurveyOptions) {
    this.chance = new Chance(seed);
    this.options = options;
    const roles = ['ac', 'ac', 'sounder', 'sounder', 'aux-positive', 'aux-negative', 'earth'];
    for (const [index, role] of roles.entries()) this.roles.set(String(index + 1), role);
  }

  newCable(from: string | undefined, cores: Core[]): Cable {
    this.#cable += 1;
    const id = `c${this.#cable}`;
    const cable: Cable = { id, ...(from === undefined ? {} : { from }), cores };
    this.cables.push(cable);
    return cable;
  }

  newScrew(role: string): string {
    this.#screw += 1;
    this.roles.set(String(this.#screw), role);
    return String(this.#screw);
  }

  unknown(share: number): boolean {
    return this.options.unknowns !== false && this.chance.is(share);
  }

  isHomeRun({ cable }: Device): boolean {
    const users = this.zones.flatMap((zone) => zone.devices).filter((device) => device.cable === cable);
    return (
      cable.from === undefined && users.length === 1 && !this.cables.some((other) => other.from === cable.id)
    );
  }
}
