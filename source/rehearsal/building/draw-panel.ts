import type { Survey, TerminalRole } from '../../site/survey.ts';
import type { Wiring } from '../../wiring/wiring.ts';
import type { Bridge, Rail, Source } from './building.ts';
import type { Random } from './random.ts';

/** A track or a lead. */
const TRACK_OHMS = 0.02;
/** Float voltage of an old panel's supply: VRLA manual, 13.5 to 13.8 V for 12 V. */
const RAIL_VOLTS = [13.5, 13.8] as const;
/** Rest voltage of a charged 12 V battery, and what it has inside: from memory. */
const BATTERY_VOLTS = [12.6, 12.9] as const;
const BATTERY_OHMS = [0.02, 0.05] as const;
/** An old panel's own load and its zone inputs as a meter sees them: from memory. */
const PANEL_OHMS = 180;
const ZONE_PULL_OHMS = [2.2e3, 6.8e3] as const;
/** Telephone line on hook: 48 V behind about 1 kΩ, its positive leg earthed at the exchange. From memory. */
const LINE = { volts: 48, ohms: 1000, earthOhms: 500 } as const;

/** The old panel: its screws, its rail and what feeds it. Everything of it is named `panel:...`. */
export function drawPanel(survey: Survey, wiring: Wiring, random: Random) {
  const screws = (role: TerminalRole) =>
    survey.panel.terminals.filter((one) => one.role === role).map(({ number }) => `old:${number}`);
  const bridges = new Map<string, Bridge>();
  const bridge = (a: string, b: string, ohms: number) =>
    bridges.set(`panel:${a}-${b}`, { id: `panel:${a}-${b}`, a, b, ohms });

  const [ac1 = 'panel:ac1', ac2 = 'panel:ac2'] = screws('ac');
  const [batteryPlus = 'panel:battery+', batteryMinus = 'panel:battery-'] = screws('battery');
  // A sounder's positive is switched; its negative is the panel's.
  const negatives = [
    ...screws('aux-negative'),
    ...screws('common'),
    ...screws('sounder').slice(1),
    batteryMinus,
  ];
  for (const screw of negatives) {
    bridge(screw, 'panel:-', TRACK_OHMS);
  }
  for (const screw of screws('aux-positive')) bridge(screw, 'panel:+', TRACK_OHMS);
  for (const { near, use } of wiring.conductors) {
    if (use === 'hold-off' && near.startsWith('old:')) bridge(near, 'panel:+', TRACK_OHMS);
  }
  const zoneScrews = new Set([...survey.zones, ...survey.tampers].map(({ terminals }) => terminals));
  const commons = new Set(screws('common'));
  for (const [first, second] of zoneScrews) {
    bridge(`old:${first}`, 'panel:+', random.between(...ZONE_PULL_OHMS));
    if (!commons.has(`old:${second}`)) bridge(`old:${second}`, 'panel:-', TRACK_OHMS);
  }
  const isEarthed =
    survey.panel.earthed === 'yes' || (survey.panel.earthed === 'unknown' && random.next() < 0.5);
  if (isEarthed && survey.panel.enclosure === 'metal') bridge('panel:-', 'earth', 0.1);

  const batteries = survey.panel.batteries.map((_, index) =>
    battery(`battery:${index + 1}`, [batteryPlus, batteryMinus], random),
  );
  const railVolts = random.between(...RAIL_VOLTS);
  const feed = { source: 'feed', volts: railVolts, innerOhms: 0.1 };
  const rails: Rail[] = [
    {
      id: 'panel:aux',
      plus: 'panel:+',
      minus: 'panel:-',
      innerOhms: 0.1,
      fedBy: [
        feed,
        ...batteries.map(({ name, volts }) => ({ source: name, volts: volts - 0.3, innerOhms: 0.1 })),
      ],
      idleOhms: PANEL_OHMS,
    },
    {
      id: 'panel:charge',
      plus: batteryPlus,
      minus: 'panel:-',
      innerOhms: 50,
      fedBy: [feed],
      idleOhms: 20e3,
    },
  ];
  const sources = [
    feedOfPanel(survey, [ac1, ac2]),
    ...batteries,
    ...telephone(survey, screws('telephone'), bridge, random),
  ];
  return { bridges, rails, sources };
}

const plain = { connected: true, induced: false, feedsBoard: null } as const;
const posts = (name: string) => ({ plus: `${name}+`, minus: `${name}-` });

function feedOfPanel(survey: Survey, joins: readonly [string, string]): Source {
  const mode = survey.outside.feed === 'dc-adapter' ? 'dc' : 'ac';
  const volts = survey.panel.feedVolts ?? (mode === 'ac' ? 18 : 13.8);
  return { name: 'feed', mode, volts, innerOhms: 0.5, ...posts('feed'), joins, ...plain };
}

/** A lead-acid battery with a voltage in V and an inner resistance in Ω drawn by chance. */
export function battery(name: string, joins: readonly [string, string], random: Random): Source {
  return {
    name,
    mode: 'dc',
    volts: random.between(...BATTERY_VOLTS),
    innerOhms: random.between(...BATTERY_OHMS),
    ...posts(name),
    joins,
    ...plain,
  };
}

function telephone(
  survey: Survey,
  screws: readonly string[],
  bridge: (a: string, b: string, ohms: number) => void,
  random: Random,
): Source[] {
  const [tip, ring] = screws;
  if (tip === undefined || ring === undefined) return [];
  const { signalling } = survey.outside;
  if (signalling !== 'telephone' && !(signalling === 'unknown' && random.next() < 0.5)) return [];
  bridge('telephone+', 'earth', LINE.earthOhms);
  return [
    {
      name: 'telephone',
      mode: 'dc',
      volts: LINE.volts,
      innerOhms: LINE.ohms,
      ...posts('telephone'),
      joins: [tip, ring],
      ...plain,
    },
  ];
}
