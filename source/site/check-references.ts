import { entryName, type Written } from './document.ts';
import { orWords, type Path, type Trouble } from './problem.ts';

/** An entry of one of the file's lists, with its place. */
type Entry = { readonly at: Path; readonly of: Written; readonly name: string };

/**
 * Checks that everything a survey names exists, once, and where it can be. Works on the text as written,
 * so that one field that cannot be read hides no mistake in another.
 */
export function referenceTroubles(top: Written): Trouble[] {
  const survey = new Names(top);
  return [
    ...duplicateTroubles(survey),
    ...zoneTroubles(survey),
    ...terminalTroubles(survey),
    ...cableTroubles(survey),
    ...coreTroubles(survey),
    ...otherTroubles(survey),
  ];
}

/** The lists of a survey as written; found once, since surveys have thousands of entries. */
class Names {
  readonly #top: Written;
  readonly #lists = new Map<string, Entry[]>();
  readonly #cableFrom = new Map<string, string>();

  constructor(top: Written) {
    this.#top = top;
    for (const cable of this.list('cables')) {
      this.#cableFrom.set(cable.name, textOf(fieldOf(cable.of, 'from')) ?? 'panel');
    }
  }

  list(...names: string[]): Entry[] {
    return names.flatMap((name) => {
      const found = this.#lists.get(name) ?? entriesOf(fieldOf(this.#top, name), [name]);
      this.#lists.set(name, found);
      return found;
    });
  }

  terminals(): Entry[] {
    return entriesOf(fieldOf(fieldOf(this.#top, 'panel'), 'terminals'), ['panel', 'terminals']);
  }

  names(...lists: string[]): string[] {
    return this.list(...lists).map((entry) => entry.name);
  }

  /** The cables from this one towards the panel; ends where one comes a second time. */
  wayToPanel(cable: string): string[] {
    const way = new Set<string>();
    let here = cable;
    while (here !== 'panel') {
      if (way.has(here)) return [...way, here];
      way.add(here);
      here = this.#cableFrom.get(here) ?? 'panel';
    }
    return [...way];
  }
}

function entriesOf(list: Written | undefined, at: Path): Entry[] {
  return itemsOf(list).map((of, index) => ({
    at: [...at, index],
    of,
    name: entryName(of) ?? textOf(of) ?? '',
  }));
}

const DEVICES = ['detectors', 'sounders', 'keypads'];
const LOOPS = ['zones', 'tampers'];

function duplicateTroubles(survey: Names): Trouble[] {
  const groups = [
    survey.list(...DEVICES),
    survey.list(...LOOPS),
    survey.list('cables', 'boards'),
    survey.list('supplies'),
    survey.terminals(),
  ];
  return groups.flatMap((entries) => {
    const seen = new Map<string, Entry>();
    return entries.flatMap((entry) => {
      const before = seen.get(entry.name);
      if (entry.name === '' || before === undefined) {
        seen.set(entry.name, entry);
        return [];
      }
      const says = `"${entry.name}" is already taken in ${before.at[before.at.length - 2]}.`;
      return [{ at: entry.at, says, accepts: 'a name that nothing else of its kind has' }];
    });
  });
}

function zoneTroubles(survey: Names): Trouble[] {
  const detectors = survey.names('detectors');
  const zoneOf = new Map<string, string>();
  const troubles: Trouble[] = [];
  for (const zone of survey.list('zones')) {
    const named = itemsOf(fieldOf(zone.of, 'detectors'));
    if (named.length === 0) {
      const says = `Zone ${zone.name} has no detectors.`;
      troubles.push({ at: [...zone.at, 'detectors'], says, accepts: 'at least one detector of this survey' });
    }
    named.forEach((item, index) => {
      const name = textOf(item) ?? '';
      const at = [...zone.at, 'detectors', index];
      const before = zoneOf.get(name);
      if (!detectors.includes(name)) troubles.push({ at, ...unknown('detector', name, detectors) });
      else if (before !== undefined) {
        const says = `Detector ${name} is in ${before === zone.name ? 'this zone twice' : `zone ${before} as well`}.`;
        troubles.push({ at, says, accepts: 'each detector in one zone' });
      } else zoneOf.set(name, zone.name);
    });
    const own = named.map((item) => textOf(item) ?? '');
    const loop = fieldOf(zone.of, 'loop');
    const far = textOf(fieldOf(fieldOf(loop, 'resistorAt'), 'detector'));
    if (far !== undefined && !own.includes(far)) {
      troubles.push({
        at: [...zone.at, 'loop', 'resistorAt', 'detector'],
        ...unknown('detector of this zone', far, own),
      });
    }
    for (const key of keysOf(fieldOf(loop, 'bridges'))) {
      if (!own.includes(key)) {
        troubles.push({
          at: [...zone.at, 'loop', 'bridges', key],
          ...unknown('detector of this zone', key, own),
        });
      }
    }
    itemsOf(fieldOf(zone.of, 'joined')).forEach((set, index) => {
      itemsOf(set).forEach((item, inner) => {
        const name = textOf(item) ?? '';
        const at = [...zone.at, 'joined', index, inner];
        if (!own.includes(name)) troubles.push({ at, ...unknown('detector of this zone', name, own) });
      });
    });
  }
  for (const entry of survey.list('detectors')) {
    if (survey.list('zones').length > 0 && entry.name !== '' && !zoneOf.has(entry.name)) {
      const says = `Detector ${entry.name} is in no zone.`;
      troubles.push({ at: entry.at, says, accepts: 'its id under `detectors` of the zone it reports on' });
    }
  }
  return troubles;
}

function terminalTroubles(survey: Names): Trouble[] {
  const known = survey.terminals().map((entry) => entry.name);
  const pairs = new Map<string, string>();
  return survey.list(...LOOPS).flatMap((zone) => {
    const at = [...zone.at, 'terminals'];
    const [a, b] = itemsOf(fieldOf(zone.of, 'terminals')).map((item) => textOf(item) ?? '');
    if (a === undefined || b === undefined) return [];
    const missing = [a, b].flatMap((name, index): Trouble[] =>
      known.length === 0 || known.includes(name)
        ? []
        : [{ at: [...at, index], ...unknown('terminal of the panel', name, known) }],
    );
    if (a === b) {
      const says = `Both ends of ${zone.name} are on terminal ${a}.`;
      return [...missing, { at, says, accepts: 'two different terminals' }];
    }
    const key = JSON.stringify([a, b].sort());
    const before = pairs.get(key);
    if (before === undefined) {
      pairs.set(key, zone.name);
      return missing;
    }
    const says = `${zone.name} and ${before} are on the same pair of terminals, ${a} and ${b}.`;
    return [...missing, { at, says, accepts: 'a pair that no other zone has; one terminal may be shared' }];
  });
}

function cableTroubles(survey: Names): Trouble[] {
  const cables = survey.names('cables');
  const troubles: Trouble[] = survey.list(...DEVICES).flatMap((device) => {
    const cable = textOf(fieldOf(device.of, 'cable'));
    return cable === undefined || cables.includes(cable)
      ? []
      : [{ at: [...device.at, 'cable'], ...unknown('cable', cable, cables) }];
  });
  for (const cable of survey.list('cables')) {
    const from = textOf(fieldOf(cable.of, 'from')) ?? 'panel';
    const at = [...cable.at, 'from'];
    if (from !== 'panel' && !cables.includes(from)) {
      troubles.push({ at, ...unknown('cable', from, ['panel', ...cables]) });
    }
    const way = survey.wayToPanel(cable.name);
    if (way.at(-1) === cable.name && way.length > 1) {
      const says = `The cables go round in a circle: ${way.join(' from ')}.`;
      troubles.push({ at, says, accepts: 'a cable that leads back to the panel' });
    }
  }
  return troubles;
}

function coreTroubles(survey: Names): Trouble[] {
  const known = survey.terminals().map((entry) => entry.name);
  const devices = new Map(survey.list(...DEVICES).map((entry) => [entry.name, entry]));
  return survey.list('cables').flatMap((cable) =>
    itemsOf(fieldOf(cable.of, 'cores')).flatMap((core, index): Trouble[] => {
      const at = [...cable.at, 'cores', index];
      const screw = textOf(fieldOf(core, 'at'));
      const device = textOf(fieldOf(core, 'for'));
      const troubles: Trouble[] = [];
      if (screw !== undefined && (textOf(fieldOf(cable.of, 'from')) ?? 'panel') !== 'panel') {
        const says = `Cable ${cable.name} goes on from another cable: this core has no end at the panel.`;
        troubles.push({ at: [...at, 'at'], says, accepts: 'no `at` here' });
      } else if (screw !== undefined && known.length > 0 && !known.includes(screw)) {
        troubles.push({ at: [...at, 'at'], ...unknown('terminal of the panel', screw, known) });
      }
      if (device === undefined) return troubles;
      const found = devices.get(device);
      if (found === undefined) {
        const names = [...devices.keys()];
        return [
          ...troubles,
          { at: [...at, 'for'], ...unknown('detector, sounder or keypad', device, names) },
        ];
      }
      const way = survey.wayToPanel(textOf(fieldOf(found.of, 'cable')) ?? '');
      if (way.includes(cable.name)) return troubles;
      const says = `${device} hangs on another cable, not on ${cable.name} or one that goes on from it.`;
      return [...troubles, { at: [...at, 'for'], says, accepts: `what hangs on ${cable.name}` }];
    }),
  );
}

function otherTroubles(survey: Names): Trouble[] {
  const zones = survey.names('zones');
  const detectors = survey.names('detectors');
  const boards = survey.names('boards');
  const known = survey.terminals().map((entry) => entry.name);
  const through = [...survey.names('detectors', 'sounders', 'keypads'), 'lid'];
  const named = (entries: Entry[], field: string, what: string, allowed: string[]): Trouble[] =>
    entries.flatMap((entry) =>
      itemsOf(field === '' ? entry.of : fieldOf(entry.of, field)).flatMap((item, index) => {
        const name = textOf(item) ?? '';
        const at = [...entry.at, ...(field === '' ? [] : [field]), index];
        return allowed.includes(name) ? [] : [{ at, ...unknown(what, name, allowed) }];
      }),
    );
  const inputs = survey.list('detectors').flatMap((entry): Trouble[] => {
    const board = textOf(fieldOf(entry.of, 'input'))?.split('/')[0];
    if (board === undefined || boards.length === 0 || boards.includes(board)) return [];
    return [{ at: [...entry.at, 'input'], ...unknown('board', board, boards) }];
  });
  return [
    ...named(survey.list('mayShare'), '', 'zone', zones),
    ...named(survey.list('tampers'), 'through', 'detector, sounder or keypad', through),
    ...named(survey.list('supplies'), 'feeds', 'detector', detectors),
    ...(known.length === 0 ? [] : named(survey.list('outputs'), 'terminals', 'terminal of the panel', known)),
    ...inputs,
  ];
}

function unknown(what: string, name: string, known: readonly string[]) {
  const shown = known.filter((word) => word !== '');
  const accepts = shown.length === 0 ? `a ${what} that the survey has` : orWords(shown.slice(0, 40));
  return { says: `There is no ${what} "${name.slice(0, 40)}".`, accepts };
}

function fieldOf(of: Written | undefined, name: string): Written | undefined {
  if (typeof of !== 'object' || Array.isArray(of) || !Object.hasOwn(of, name)) return undefined;
  return (of as Readonly<Record<string, Written>>)[name];
}

function itemsOf(of: Written | undefined): readonly Written[] {
  return Array.isArray(of) ? of : [];
}

function textOf(of: Written | undefined): string | undefined {
  return typeof of === 'string' ? of : undefined;
}

function keysOf(of: Written | undefined): string[] {
  return typeof of === 'object' && !Array.isArray(of) ? Object.keys(of) : [];
}
