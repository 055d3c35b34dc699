import { type Random, seededRandom } from '../../source/rehearsal/building/random.ts';

type Written = Record<string, unknown>;

/** Survey files of invented sites, as text: everything the rehearsal is to cope with turns up in some of them. */
export function randomSurvey(seed: number, most: { zones: number } = { zones: 6 }): string {
  const random = seededRandom(seed, 'site');
  const counters = { cable: 0, detector: 0, screw: 1 };
  const detectors: Written[] = [];
  const cables: Written[] = [];
  const terminals: Written[] = [];
  const screw = (role: string): string => {
    const number = String(counters.screw++);
    terminals.push({ number, role });
    return number;
  };
  for (const role of ['ac', 'ac', 'sounder', 'sounder', 'aux-positive', 'aux-negative', 'earth']) screw(role);
  const zones: Written[] = [];
  const count = 2 + Math.floor(random.next() * (most.zones - 1));
  let common: string | null = null;
  for (let index = 0; index < count; index++) {
    const first = screw('zone');
    const shares: boolean = common !== null && random.next() < 0.3;
    const second: string = shares ? common! : screw(random.next() < 0.7 ? 'common' : 'zone');
    common = terminals.find(({ number }) => number === second)?.role === 'common' && !shares ? second : null;
    zones.push(zone(`z${index + 1}`, [first, second], random, { detectors, cables, counters }));
  }
  const sounders = random.next() < 0.7 ? [sounder(random, cables, counters)] : [];
  return JSON.stringify({
    format: 'loopward/survey@1',
    site: { name: `Harbour site ${seed}`, reference: `H-${seed}` },
    outside: {
      feed: random.next() < 0.9 ? 'plug-in-transformer' : 'dc-adapter',
      signalling: 'none',
      monitored: random.pick(['yes', 'no', 'unknown']),
      set: 'unset',
      lifeSafety: 'none',
      otherFeeds: 'none',
      sounderBattery: sounders.length > 0 ? random.pick(['yes', 'no', 'unknown']) : 'no',
    },
    panel: {
      feedVoltage: '16.5 V',
      enclosure: random.pick(['metal', 'plastic']),
      earthed: random.pick(['yes', 'no', 'unknown']),
      batteries: random.next() < 0.85 ? [{ capacity: '7 Ah', chemistry: 'sealed-lead-acid' }] : [],
      slack: '200 mm',
      terminals: [...terminals, { number: 'B+', role: 'battery' }, { number: 'B-', role: 'battery' }],
    },
    network: { kind: 'wired', backup: 'none' },
    zones,
    detectors,
    cables,
    sounders,
    keypads: [],
    boards: [],
  });
}

type Into = { detectors: Written[]; cables: Written[]; counters: { cable: number; detector: number } };

function zone(id: string, terminals: [string, string], random: Random, into: Into): Written {
  const open = random.next() < 0.15;
  const count = open ? 1 : 1 + Math.floor(random.next() * 2.6);
  const inField = count > 1 && random.next() < 0.35;
  const ids: string[] = [];
  let previous: string | null = null;
  for (let index = 0; index < count; index++) {
    const made = detector(random, into, open, inField ? previous : null);
    previous = made.cable;
    ids.push(made.id);
  }
  return {
    id,
    name: `Zone ${id}`,
    terminals,
    loop: loop(random, open, ids),
    ...(count > 1 ? { joined: inField ? 'field' : 'panel' } : {}),
    detectors: ids,
  };
}

function loop(random: Random, open: boolean, ids: readonly string[]): Written {
  const resistor = random.pick(['1k', '2k2', '3k3', '4k7', '5k6']);
  const last = ids[ids.length - 1];
  if (open) return { style: 'across', resistor, resistorAt: { detector: last, by: 'part' } };
  if (random.next() < 0.3) return { style: 'plain' };
  const at = random.next() < 0.6 ? 'panel' : { detector: random.pick(ids), by: 'jumper' };
  return { style: 'series', resistor, resistorAt: at };
}

function detector(
  random: Random,
  into: Into,
  open: boolean,
  from: string | null,
): { id: string; cable: string } {
  const id = `d${++into.counters.detector}`;
  const cable = `c${++into.counters.cable}`;
  const powered = !open && from === null && random.next() < 0.4;
  into.detectors.push({
    id,
    name: `Detector ${id}`,
    kind: powered
      ? random.pick(['movement', 'glass-break'])
      : open
        ? 'flood'
        : random.pick(['door-contact', 'window-contact']),
    contact: open ? 'normally-open' : 'normally-closed',
    place: random.pick(['entry', 'perimeter', 'interior']),
    cable,
    importance: Math.floor(random.next() * 4),
    ...(powered
      ? {
          supply: { standby: '15 mA', alarm: '25 mA', minimum: '9.5 V', maximum: '15 V' },
          unpowered: random.pick(['open', 'open', 'unknown']),
        }
      : {}),
  });
  const pair = [
    { colour: 'white', use: 'loop' },
    { colour: 'brown', use: 'loop' },
  ];
  const supply = [
    { colour: 'red', use: 'aux-positive' },
    { colour: 'black', use: 'aux-negative' },
  ];
  into.cables.push({
    id: cable,
    length: random.next() < 0.05 ? 'unknown' : `${Math.round(random.between(3, 45))} m`,
    ...(random.next() < 0.3 ? { measured: 'yes' } : {}),
    conductor: random.pick(['22 AWG', '0.22 mm2', '24 AWG', '0.5 mm2']),
    ...(from === null ? {} : { from }),
    cores: powered ? [...pair, ...supply] : pair,
  });
  return { id, cable };
}

function sounder(random: Random, cables: Written[], counters: { cable: number }): Written {
  const cable = `c${++counters.cable}`;
  cables.push({
    id: cable,
    length: '15 m',
    conductor: '18 AWG',
    cores: [
      { colour: 'red', use: 'sounder-positive' },
      { colour: 'black', use: 'sounder-negative' },
    ],
  });
  return {
    id: 'bell',
    cable,
    current: '350 mA',
    minimum: '9 V',
    wiring: 'two-wire',
    ownBattery: random.pick(['yes', 'no', 'unknown']),
    trigger: 'supply',
    strobe: 'none',
    holdOff: 'none',
  };
}
