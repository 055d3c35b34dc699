import { type Detector, isLifeSafety, type Survey } from '../site/survey.ts';
import type { HeldOut } from './plan.ts';

/**
 * What no step may ever move: life-safety detectors, whatever stands in one loop with them, whatever hangs on
 * a core they use, and keypads whose emergency keys would go dead. There is no way round it.
 */
export type LifeSafety = {
  readonly heldOut: readonly HeldOut[];
  /** Detectors (and keypads) held out, by id. */
  readonly ids: ReadonlySet<string>;
  /** Zones and tamper loops held out whole. */
  readonly zones: ReadonlySet<string>;
  /** Cables on which a held-out detector or keypad hangs, up to the panel. */
  readonly cables: ReadonlySet<string>;
};

/** Life safety as a source of rules: NFPA 731 4.1.2-4.1.3 leave such circuits to their own codes. */
export function computeLifeSafety(survey: Survey): LifeSafety {
  const heldOut = new Map<string, HeldOut>();
  const zones = new Set<string>();
  for (const detector of survey.detectors)
    if (isLifeSafety(detector.kind))
      heldOut.set(detector.id, { detector: detector.id, reason: 'life-safety' });
  for (const keypad of survey.keypads)
    if (keypad.emergencyKeys !== 'none')
      heldOut.set(keypad.id, { detector: keypad.id, reason: 'emergency-keys' });

  // One detector may pull in its zone, and the zone a cable with another detector's cores: until it settles.
  for (let before = -1; before !== heldOut.size + zones.size; ) {
    before = heldOut.size + zones.size;
    for (const zone of [
      ...survey.zones.map((z) => ({ id: z.id, members: z.detectors })),
      ...tamperMembers(survey),
    ])
      if (zone.members.some((member) => isHeldDetector(member))) {
        zones.add(zone.id);
        if (survey.zones.some((z) => z.id === zone.id)) for (const member of zone.members) shares(member);
      }
    for (const detector of survey.detectors)
      if (!heldOut.has(detector.id) && sharesCore(survey, detector, isHeldDetector)) shares(detector.id);
  }
  return { heldOut: [...heldOut.values()], ids: new Set(heldOut.keys()), zones, cables: heldCables() };

  function isHeldDetector(id: string): boolean {
    return heldOut.has(id) && survey.detectors.some((detector) => detector.id === id);
  }
  function shares(id: string): void {
    if (!heldOut.has(id)) heldOut.set(id, { detector: id, reason: 'shares-life-safety' });
  }
  function heldCables(): Set<string> {
    const cables = new Set<string>();
    const from = new Map(survey.cables.map((cable) => [cable.id, cable.from]));
    const starts = [...survey.detectors, ...survey.keypads].filter((device) => heldOut.has(device.id));
    for (const device of starts)
      for (
        let id: string | undefined = device.cable;
        id && id !== 'panel' && !cables.has(id);
        id = from.get(id)
      )
        cables.add(id);
    return cables;
  }
}

function tamperMembers(survey: Survey): { id: string; members: readonly string[] }[] {
  return survey.tampers.map((tamper) => ({ id: tamper.id, members: tamper.through }));
}

/**
 * Do two detectors hang on one core: the supply pair of a daisy chain, or a return for both on one cable.
 * A multi-core cable with a pair for each shares no core.
 */
function sharesCore(survey: Survey, detector: Detector, isHeld: (id: string) => boolean): boolean {
  const mine = cablesUp(survey, detector.cable);
  return survey.detectors
    .filter((other) => other.id !== detector.id && isHeld(other.id))
    .some((other) =>
      cablesUp(survey, other.cable).some(
        (id) =>
          mine.includes(id) &&
          survey.cables
            .find((cable) => cable.id === id)!
            .cores.some(
              (core) =>
                core.for === null &&
                ((core.use === 'common' && true) ||
                  ((core.use === 'aux-positive' || core.use === 'aux-negative') &&
                    detector.supply !== null &&
                    other.supply !== null)),
            ),
      ),
    );
}

function cablesUp(survey: Survey, start: string): string[] {
  const up: string[] = [];
  for (let id = start; id !== 'panel' && !up.includes(id); ) {
    const cable = survey.cables.find((candidate) => candidate.id === id);
    if (!cable) break;
    up.push(id);
    id = cable.from;
  }
  return up;
}
