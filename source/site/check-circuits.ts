import { contactTroubles } from './check-contacts.ts';
import { type Circuit, devicesOf, type Joined, tamperCircuits, zoneCircuits } from './circuits.ts';
import { fillIn } from './fill-in.ts';
import { findPairs, type Pair } from './pairs.ts';
import type { Trouble } from './problem.ts';
import { liesAcross, panelSide, Screws } from './runs.ts';
import { lacksScrew } from './screws.ts';
import type { Survey, Zone } from './survey.ts';
import type { SurveyFile } from './survey-file.ts';

/** Fills a survey in, and checks that its cores make up its loops. */
export function checkCircuits(file: SurveyFile): { survey: Survey; troubles: Trouble[] } {
  const filled = fillIn(file);
  const devices = devicesOf(filled);
  const zones = zoneCircuits(filled, new Map(file.zones.map((zone) => [zone.id, declaredJoin(zone.joined)])));
  const tampers = tamperCircuits(filled);
  const alarm = findPairs(filled.cables, devices, zones);
  const tamper = findPairs(filled.cables, devices, tampers);
  const roots = new Set(filled.cables.filter((cable) => cable.from === 'panel').map((cable) => cable.id));
  const pairsOf = (circuit: Circuit, pairs: readonly Pair[]) =>
    pairs.filter((pair) => roots.has(pair.cable) && circuit.members.includes(pair.detectors[0]!));
  const joins = new Map(zones.map((zone) => [zone.id, foundSets(pairsOf(zone, alarm.pairs))]));
  const survey: Survey = {
    ...filled,
    zones: filled.zones.map((zone) => ({ ...zone, ...joinOf(zone, joins.get(zone.id) ?? []) })),
    assumed: [...filled.assumed, ...alarm.guesses, ...tamper.guesses],
  };
  const contact = new Map(survey.detectors.map((detector) => [detector.id, detector.contact]));
  const sides = (circuits: readonly Circuit[], pairs: readonly Pair[]) => {
    const screws = new Screws(survey, pairs, circuits);
    return circuits.flatMap((circuit) => {
      const lies = (id: string) =>
        circuit.purpose === 'alarm' && liesAcross(circuit.loop.style, contact.get(id) ?? 'unknown')
          ? 'across'
          : 'in';
      return panelSide(circuit, pairsOf(circuit, pairs), screws, lies).troubles;
    });
  };
  const pairTroubles = [...alarm.troubles, ...tamper.troubles];
  const troubles = [
    ...pairTroubles,
    ...(pairTroubles.length > 0 ? [] : [...sides(zones, alarm.pairs), ...sides(tampers, tamper.pairs)]),
    ...zones.flatMap((zone) => joinTroubles(zone, joins.get(zone.id) ?? [])),
    ...contactTroubles(survey, alarm.pairs),
    ...screwTroubles(survey),
  ];
  return { survey, troubles };
}

function declaredJoin(written: SurveyFile['zones'][number]['joined']): Joined {
  return written === undefined || written === 'single' ? 'unknown' : written;
}

/** The sets of detectors that come to the panel over one pair and so cannot be parted there. */
function foundSets(pairs: readonly Pair[]): readonly (readonly string[])[] {
  return pairs.filter((pair) => pair.detectors.length > 1).map((pair) => pair.detectors);
}

function joinOf(zone: Zone, sets: readonly (readonly string[])[]): Pick<Zone, 'joined' | 'fieldSets'> {
  if (zone.detectors.length < 2) return { joined: 'single', fieldSets: [] };
  return { joined: sets[0]?.length === zone.detectors.length ? 'field' : 'panel', fieldSets: sets };
}

/** What the survey says of the joins must be what its cables say. */
function joinTroubles(zone: Circuit, found: readonly (readonly string[])[]): Trouble[] {
  const { joined, members } = zone;
  if (joined === 'unknown' || members.length < 2) return [];
  const declared = joined === 'panel' ? [] : joined === 'field' ? [members] : joined;
  const key = (set: readonly string[]) => [...set].sort().join(' ');
  const missing = declared.filter((set) => set.length > 1 && !found.some((other) => key(other) === key(set)));
  const hidden = found.filter((set) => !declared.some((other) => key(other) === key(set)));
  if (missing.length + hidden.length === 0) return [];
  const says =
    hidden.length > 0
      ? `${hidden[0]!.join(' and ')} come to the panel over one pair, so they are joined in the field.`
      : `${missing[0]!.join(' and ')} each come to the panel over a pair of their own, so they are joined there.`;
  const whole = found.length === 1 && found[0]!.length === members.length;
  const accepts =
    found.length === 0
      ? 'panel'
      : whole
        ? 'field'
        : `[${found.map((set) => `[${set.join(', ')}]`).join(', ')}]`;
  return [{ at: [...zone.at, 'joined'], says, accepts }];
}

function screwTroubles(survey: Survey): Trouble[] {
  return survey.cables.flatMap((cable, index) =>
    cable.cores.flatMap((core, coreIndex) => {
      const at = ['cables', index, 'cores', coreIndex];
      if (core.use === 'doubled' && (coreIndex === 0 || cable.cores[coreIndex - 1]!.use === 'spare')) {
        return [
          {
            at,
            says: 'No core stands before this one that it could double.',
            accepts: 'the core it doubles just before it',
          },
        ];
      }
      if (!lacksScrew(cable, coreIndex + 1, survey.panel)) return [];
      const says = `Nothing tells on which terminal the ${core.use} core of ${cable.id} sits.`;
      return [
        { at, says, accepts: '`at` with its terminal, or a terminal of that role under panel.terminals' },
      ];
    }),
  );
}
