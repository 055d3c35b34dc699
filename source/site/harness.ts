import type {
  FittedContact,
  FittedLoad,
  FittedResistor,
  NodeId,
  WiredConductor,
  Wiring,
} from '../wiring/wiring.ts';
import type { Cable, Survey } from './survey.ts';
import { oneWayOhms } from './worth.ts';

type Ends = {
  near: NodeId | null;
  far: NodeId | null;
  screw: string | null;
  for: string | null;
  zone: string | null;
};

/** The wiring while it is laid, conductor by conductor. What nothing has connected at the end is a loose end. */
export class Harness {
  readonly resistors: FittedResistor[] = [];
  readonly contacts: FittedContact[] = [];
  readonly loads: FittedLoad[] = [];
  readonly loops: Record<string, readonly [NodeId, NodeId]> = {};
  readonly #ends = new Map<string, Ends>();
  readonly #cables: ReadonlyMap<string, Cable>;
  readonly #joints = new Map<string, number>();

  readonly #survey: Survey;

  constructor(survey: Survey) {
    const { cables } = survey;
    this.#survey = survey;
    this.#cables = new Map(cables.map((cable) => [cable.id, cable]));
    for (const cable of cables) {
      cable.cores.forEach((core, index) => {
        const ends = { near: null, far: null, screw: null, for: core.for, zone: null };
        this.#ends.set(`${cable.id}/${index + 1}`, ends);
      });
    }
  }

  cable(id: string): Cable {
    return this.#cables.get(id)!;
  }

  near(cable: string, number: number): NodeId | null {
    return this.#end(cable, number).near;
  }

  far(cable: string, number: number): NodeId | null {
    return this.#end(cable, number).far;
  }

  /** @param screw the panel's screw it belongs to; null for a splice in mid air */
  setNear(cable: string, number: number, node: NodeId, screw: string | null): void {
    Object.assign(this.#end(cable, number), { near: node, screw });
  }

  /** Puts the far end on a node, or answers the one it is on already: a shared return has one far end. */
  setFar(cable: string, number: number, node: () => NodeId): NodeId {
    const end = this.#end(cable, number);
    end.far ??= node();
    return end.far;
  }

  serve(cable: string, number: number, device: string | null, zone: string | null): void {
    const end = this.#end(cable, number);
    end.for ??= device;
    end.zone = zone;
  }

  /** A new joint at the far end of a cable. */
  joint(cable: string): NodeId {
    const count = (this.#joints.get(cable) ?? 0) + 1;
    this.#joints.set(cable, count);
    return count === 1 ? `field:${cable}` : `field:${cable}.${count}`;
  }

  finish(): Wiring {
    const conductors = [...this.#cables.values()].flatMap((cable) => {
      const ohms = oneWayOhms(cable, this.#survey);
      return cable.cores.map((core, index): WiredConductor => {
        const number = index + 1;
        const id = `${cable.id}/${number}`;
        const doubles = core.use === 'doubled' ? this.#end(cable.id, index) : null;
        const own = this.#end(cable.id, number);
        if (doubles !== null) Object.assign(own, doubles);
        own.near ??= `end:${id}`;
        own.far ??= `end:${id}.far`;
        return {
          id,
          cable: cable.id,
          number,
          colour: core.colour,
          use: core.use,
          for: own.for,
          zone: own.zone,
          near: own.near,
          far: own.far,
          screw: own.screw,
          atPanel: cable.from === 'panel',
          ohms,
        };
      });
    });
    const { resistors, contacts, loads, loops } = this;
    return {
      conductors,
      resistors,
      contacts,
      loads,
      links: [],
      isolated: [],
      mounted: [],
      removed: [],
      loops,
    };
  }

  #end(cable: string, number: number): Ends {
    return this.#ends.get(`${cable}/${number}`)!;
  }
}

/** The cables of a survey, each after the one it goes on from. */
export function fromPanelOutwards(survey: Survey): Cable[] {
  const laid = new Set(['panel']);
  const ordered: Cable[] = [];
  let waiting = survey.cables;
  while (waiting.length > 0) {
    const next = waiting.filter((cable) => laid.has(cable.from));
    if (next.length === 0) break;
    for (const cable of next) laid.add(cable.id);
    ordered.push(...next);
    waiting = waiting.filter((cable) => !laid.has(cable.id));
  }
  return ordered;
}
