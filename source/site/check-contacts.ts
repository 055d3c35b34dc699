import type { Pair } from './pairs.ts';
import type { Trouble } from './problem.ts';
import { liesAcross } from './runs.ts';
import type { Detector, Survey, Zone } from './survey.ts';

/** Checks that contacts, resistors and supplies can be as the survey says. */
export function contactTroubles(survey: Survey, pairs: readonly Pair[]): Trouble[] {
  const byId = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  return [
    ...survey.zones.flatMap((zone, index) => styleTroubles(zone, index, byId, pairs)),
    ...survey.tampers.flatMap((tamper, index): Trouble[] => {
      const at = ['tampers', index];
      const fits = tamper.loop.style === 'plain' || tamper.loop.style === 'series';
      const far = typeof tamper.loop.resistorAt === 'object' ? tamper.loop.resistorAt?.detector : undefined;
      return [
        ...troubleUnless(
          fits,
          [...at, 'loop', 'style'],
          'A tamper loop has no such style.',
          'plain or series',
        ),
        ...troubleUnless(
          far === undefined || tamper.through.includes(far),
          [...at, 'loop', 'resistorAt'],
          `${far} is not on this tamper loop.`,
          tamper.through.join(', '),
        ),
      ];
    }),
    ...survey.detectors.flatMap((detector, index) => detectorTroubles(detector, index, survey)),
  ];
}

function styleTroubles(
  zone: Zone,
  index: number,
  byId: ReadonlyMap<string, Detector>,
  pairs: readonly Pair[],
): Trouble[] {
  const { style } = zone.loop;
  const at = ['zones', index, 'loop'];
  const members = zone.detectors.map((id) => byId.get(id)!);
  const open = members.filter((detector) => detector.contact === 'normally-open');
  const closed = members.filter((detector) => detector.contact === 'normally-closed');
  const across = members.filter((detector) => liesAcross(style, detector.contact));
  const isMixed = across.length > 0 && across.length < members.length;
  const far = typeof zone.loop.resistorAt === 'object' ? (zone.loop.resistorAt?.detector ?? null) : null;
  const unbridged = zone.detectors.filter((id) => !Object.hasOwn(zone.loop.bridges, id));
  const split = pairs.find(
    ({ detectors }) =>
      zone.detectors.includes(detectors[0]!) &&
      new Set(detectors.map((id) => liesAcross(style, byId.get(id)!.contact))).size > 1,
  );
  return [
    ...troubleUnless(
      open.length === 0 || (style !== 'series' && style !== 'bridged'),
      [...at, 'style'],
      `${open[0]?.id} is normally open, which this style is not for.`,
      'across, mixed or two-resistor',
    ),
    ...troubleUnless(
      closed.length === 0 || style !== 'across',
      [...at, 'style'],
      `${closed[0]?.id} is normally closed, which this style is not for.`,
      'series, mixed or two-resistor',
    ),
    ...troubleUnless(
      style === 'mixed' || !isMixed,
      [...at, 'style'],
      'Both kinds of contact are on this loop, which this style is not for.',
      'mixed',
    ),
    ...troubleUnless(
      style !== 'mixed' || isMixed,
      [...at, 'style'],
      'Only one kind of contact is on this loop.',
      across.length > 0 ? 'across' : 'series',
    ),
    ...troubleUnless(
      style !== 'mixed' || far === null || !across.some((detector) => detector.id === far),
      [...at, 'resistorAt'],
      `${far} lies across the loop, so the series resistor cannot be at it.`,
      'panel, unknown, or a normally closed detector of this zone',
    ),
    ...troubleUnless(
      style !== 'bridged' || unbridged.length === 0,
      [...at, 'bridges'],
      `Nothing tells which resistor bridges ${unbridged.join(', ')}.`,
      'a resistor for each detector of the zone, such as {side-door: 2k2}',
    ),
    ...troubleUnless(
      split === undefined,
      ['zones', index, 'detectors'],
      `${split?.detectors.join(' and ')} share a pair, yet one lies in the loop and one across it.`,
      'contacts of one kind on one pair',
    ),
  ];
}

function detectorTroubles(detector: Detector, index: number, survey: Survey): Trouble[] {
  const at = ['detectors', index];
  const { supply, id, tamper } = detector;
  const isOnTamper = survey.tampers.some((loop) => loop.through.includes(id));
  const cores = survey.cables.find((cable) => cable.id === detector.cable)?.cores ?? [];
  const has = (use: string) => cores.some((core) => core.use === use && (core.for ?? id) === id);
  const isFed =
    (has('aux-positive') && has('aux-negative')) || survey.supplies.some(({ feeds }) => feeds.includes(id));
  return [
    ...troubleUnless(
      supply === null || supply === 'from-loop' || supply.minimumVolts < supply.maximumVolts,
      [...at, 'supply'],
      `The least voltage of ${id} is not below its highest.`,
      'a `minimum` below `maximum`',
    ),
    ...troubleUnless(
      supply === null || supply === 'from-loop' || isFed,
      [...at, 'supply'],
      `${id} takes a supply, but ${detector.cable} has no aux-positive and aux-negative core for it.`,
      'those cores, another supply that feeds it, from-loop or none',
    ),
    ...troubleUnless(
      (tamper === 'own') === isOnTamper,
      [...at, 'tamper'],
      isOnTamper ? `${id} is on a tamper loop.` : `${id} is on no tamper loop.`,
      isOnTamper ? 'own' : 'none, in-loop, or an entry under `tampers` that goes through it',
    ),
  ];
}

function troubleUnless(fits: boolean, at: (string | number)[], says: string, accepts: string): Trouble[] {
  return fits ? [] : [{ at, says, accepts }];
}
