import type { CoreUse } from '../wiring/wiring.ts';
import { CARRIES, type Circuit, type Device } from './circuits.ts';
import type { Path, Trouble } from './problem.ts';
import type { Assumed, Cable } from './survey.ts';

/** Two cores of one cable that carry a loop: out on the first, back on the second. */
export type Pair = {
  readonly cable: string;
  /** Core numbers, from 1. */
  readonly first: number;
  readonly second: number;
  /** The second core is a return that other pairs of the cable use as well. */
  readonly isShared: boolean;
  /** The detectors read over this pair, in the order of their zone: those beyond a daisy chain too. */
  readonly detectors: readonly string[];
};

type PairsFound = {
  readonly pairs: readonly Pair[];
  readonly troubles: readonly Trouble[];
  readonly guesses: readonly Assumed[];
};

/**
 * Which cores of each cable serve which devices, for loops of one purpose. Where the survey does not say, it
 * follows from the count of cores; where that leaves several ways, the order of the cores is taken and noted
 * as assumed.
 */
export function findPairs(
  cables: readonly Cable[],
  devices: readonly Device[],
  circuits: readonly Circuit[],
): PairsFound {
  const { out = [], back = 'common' } = circuits[0] === undefined ? {} : CARRIES[circuits[0].purpose];
  const circuitOf = new Map(
    circuits.flatMap((circuit) => circuit.members.map((id) => [id, circuit] as const)),
  );
  const served = servedBy(cables, devices, circuitOf);
  const found = cables.map((cable, index) =>
    new CablePairs(
      cable,
      ['cables', index, 'cores'],
      served.get(cable.id) ?? [],
      circuitOf,
      out,
      back,
    ).find(),
  );
  const pairs = found.flatMap((each) => each.pairs);
  return {
    pairs,
    troubles: [...found.flatMap((each) => each.troubles), ...chainTroubles(cables, pairs)],
    guesses: found.flatMap((each) => each.guesses),
  };
}

type CircuitOf = ReadonlyMap<string, Circuit>;

/** The devices on each cable or beyond it, in the order of the circuits and their members. */
function servedBy(cables: readonly Cable[], devices: readonly Device[], circuitOf: CircuitOf) {
  const from = new Map(cables.map((cable) => [cable.id, cable.from]));
  const cableOf = new Map(devices.map((device) => [device.id, device.cable]));
  const served = new Map<string, string[]>();
  for (const device of circuitOf.keys()) {
    for (let cable = cableOf.get(device); cable !== undefined; cable = from.get(cable)) {
      const here = served.get(cable) ?? [];
      here.push(device);
      served.set(cable, here);
    }
  }
  return served;
}

class CablePairs {
  readonly #pairs: Pair[] = [];
  readonly #troubles: Trouble[] = [];
  readonly #guesses: Assumed[] = [];
  readonly #free: number[] = [];
  readonly #cable: Cable;
  readonly #at: Path;
  readonly #served: readonly string[];
  readonly #circuitOf: CircuitOf;
  readonly #out: readonly CoreUse[];
  readonly #back: CoreUse;

  constructor(
    cable: Cable,
    at: Path,
    served: readonly string[],
    circuitOf: CircuitOf,
    out: readonly CoreUse[],
    back: CoreUse,
  ) {
    this.#cable = cable;
    this.#at = at;
    this.#served = served;
    this.#circuitOf = circuitOf;
    this.#out = out;
    this.#back = back;
  }

  find(): PairsFound {
    const named = new Map<string, number[]>();
    this.#cable.cores.forEach((core, index) => {
      if (!this.#out.includes(core.use)) return;
      if (core.for === null) this.#free.push(index + 1);
      else named.set(core.for, [...(named.get(core.for) ?? []), index + 1]);
    });
    for (const [detector, numbers] of named) this.#addNamed(detector, numbers);
    const without = this.#served.filter((id) => !this.#pairs.some((pair) => pair.detectors.includes(id)));
    if (this.#free.length === 0) for (const detector of without) this.#join(detector);
    else this.#shareOut(without);
    return {
      pairs: this.#pairs.map((pair) => this.#finished(pair)),
      troubles: this.#troubles,
      guesses: this.#guesses,
    };
  }

  #addNamed(detector: string, numbers: readonly number[]): void {
    const [first, second, third] = numbers;
    if (first === undefined) return;
    if (!this.#served.includes(detector)) {
      this.#trouble(
        first,
        `${detector} is no detector: a loop core carries none of its circuits.`,
        'a detector',
      );
    } else if (third !== undefined) {
      this.#trouble(
        third,
        `${detector} already has two loop cores here.`,
        'two loop cores for each detector',
      );
    } else if (second !== undefined) this.#add(first, second, [detector]);
    else {
      const next = this.#free.find((number) => number > first) ?? this.#free[0];
      const mate = next ?? this.#common(detector);
      if (mate === null)
        this.#trouble(
          first,
          `${detector} has one loop core and no return.`,
          'a second loop core, or a common',
        );
      else {
        if (next !== undefined) this.#free.splice(this.#free.indexOf(next), 1);
        this.#add(first, mate, [detector]);
      }
    }
  }

  /** Deals the cores that name no detector to the detectors that have none. */
  #shareOut(without: readonly string[]): void {
    const free = [...this.#free];
    const common = this.#common(null);
    const ways = [this.#bySets(without), without.map((id) => [id]), this.#byZone(without)];
    const fits = (groups: readonly unknown[], cores: number) => groups.length * cores === free.length;
    const inPairs = ways.find((groups) => groups.length > 0 && fits(groups, 2));
    const onCommon =
      common === null ? undefined : ways.find((groups) => groups.length > 0 && fits(groups, 1));
    const groups = onCommon ?? inPairs;
    if (groups === undefined) {
      const most =
        without.length === 0
          ? 'no detector without cores is'
          : `${without.join(', ')} ${without.length === 1 ? 'is' : 'are'}`;
      const says = `${free.length} loop core${free.length === 1 ? '' : 's'} of ${this.#cable.id} name no detector, and ${most} on it.`;
      this.#trouble(
        free[0]!,
        says,
        'two loop cores for each detector, `for` where it is not plain, `spare` for what is unused',
      );
      return;
    }
    const each = groups === onCommon ? 1 : 2;
    groups.forEach((group, index) => {
      const first = free[index * each]!;
      const second = each === 1 ? common! : free[index * each + 1]!;
      this.#add(first, second, group);
      if (groups.length > 1) {
        this.#guesses.push({ about: this.#cable.id, field: `cores.${first}.for`, value: group[0]! });
      }
    });
  }

  /** A detector without cores of its own hangs on the pair of another one of its zone. */
  #join(detector: string): void {
    const zone = this.#circuitOf.get(detector);
    const mates = this.#pairs.filter((pair) => this.#circuitOf.get(pair.detectors[0]!) === zone);
    const set = this.#setOf(detector);
    const mate =
      mates.length === 1 ? mates[0] : mates.find((pair) => pair.detectors.some((id) => set.includes(id)));
    if (mate !== undefined) {
      this.#pairs[this.#pairs.indexOf(mate)] = { ...mate, detectors: [...mate.detectors, detector] };
      return;
    }
    const says = `${detector} hangs on ${this.#cable.id}, where no loop core is left for it.`;
    this.#troubles.push({
      at: this.#at,
      says,
      accepts: 'two loop cores for it, or a pair of another detector of its zone to join',
    });
  }

  #bySets(detectors: readonly string[]): string[][] {
    const groups = new Map<string, string[]>();
    for (const id of detectors) {
      const key = this.#setOf(id).join(' ');
      groups.set(key, [...(groups.get(key) ?? []), id]);
    }
    return [...groups.values()];
  }

  /** The detectors of the declared set that this one is in; itself alone where nothing is declared. */
  #setOf(detector: string): readonly string[] {
    const { joined, members } = this.#circuitOf.get(detector)!;
    if (joined === 'field') return members;
    if (typeof joined === 'string') return [detector];
    return joined.find((set) => set.includes(detector)) ?? [detector];
  }

  #byZone(detectors: readonly string[]): string[][] {
    const zones = [...new Set(detectors.map((id) => this.#circuitOf.get(id)!))];
    return zones.map((zone) => detectors.filter((id) => this.#circuitOf.get(id) === zone));
  }

  #common(detector: string | null): number | null {
    const commons = this.#cable.cores.flatMap((core, index) =>
      core.use === this.#back ? [{ core, number: index + 1 }] : [],
    );
    const own = commons.find(({ core }) => core.for !== null && core.for === detector);
    return (own ?? commons[0])?.number ?? null;
  }

  #add(first: number, second: number, detectors: readonly string[]): void {
    this.#pairs.push({ cable: this.#cable.id, first, second, isShared: false, detectors });
  }

  #finished(pair: Pair): Pair {
    const order = this.#circuitOf.get(pair.detectors[0]!)!.members;
    const isShared = this.#pairs.filter((other) => other.second === pair.second).length > 1;
    return { ...pair, isShared, detectors: order.filter((id) => pair.detectors.includes(id)) };
  }

  #trouble(number: number, says: string, accepts: string): void {
    this.#troubles.push({ at: [...this.#at, number - 1], says, accepts });
  }
}

/** What goes on in another cable must come out of one pair of the cable before. */
function chainTroubles(cables: readonly Cable[], pairs: readonly Pair[]): Trouble[] {
  const pairsOf = groupBy(pairs, (pair) => pair.cable);
  return cables.flatMap((cable, index) => {
    const before = pairsOf.get(cable.from) ?? [];
    return (pairsOf.get(cable.id) ?? [])
      .filter(() => cable.from !== 'panel')
      .filter((pair) => !before.some((feed) => pair.detectors.every((id) => feed.detectors.includes(id))))
      .map(({ detectors }) => ({
        at: ['cables', index, 'from'],
        says: `${detectors.join(', ')} share a pair of ${cable.id} but come over no one pair of ${cable.from}.`,
        accepts: 'the same pair all the way, or pairs of their own',
      }));
  });
}

/** The things by their keys, in the order they came in. */
export function groupBy<T>(all: readonly T[], keyOf: (one: T) => string): ReadonlyMap<string, readonly T[]> {
  const groups = new Map<string, T[]>();
  for (const one of all) {
    const group = groups.get(keyOf(one)) ?? [];
    group.push(one);
    groups.set(keyOf(one), group);
  }
  return groups;
}
