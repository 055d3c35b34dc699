import { isLifeSafety, type Survey } from '../site/survey.ts';
import type { WiredConductor } from '../wiring/wiring.ts';
import { conductorsServing, type Field } from './loops/field.ts';
import type { HeldOut } from './plan.ts';

/**
 * What no step may ever move: life-safety detectors, whatever stands in one loop or hangs on one core with
 * them, and keypads whose emergency keys would go dead. There is no way round it.
 */
export type LifeSafety = {
  readonly heldOut: readonly HeldOut[];
  /** Detectors and keypads held out, by id. */
  readonly ids: ReadonlySet<string>;
  /** Zones and tamper loops held out whole. */
  readonly zones: ReadonlySet<string>;
  /** Conductors that stay where they are. */
  readonly conductors: ReadonlySet<string>;
};

/** Such circuits belong to codes of their own, with which this work must not interfere: NFPA 731 4.1.2, 4.1.3. */
export function computeLifeSafety(survey: Survey, field: Field): LifeSafety {
  const heldOut = new Map<string, HeldOut>();
  const zones = new Set<string>();
  const conductors = new Set<string>();
  const serving = new Map<string, ReadonlySet<WiredConductor>>();
  const conductorsOf = (id: string) => {
    if (!serving.has(id)) serving.set(id, conductorsServing(field, id));
    return serving.get(id)!;
  };

  for (const { id, kind } of survey.detectors) if (isLifeSafety(kind)) hold(id, 'life-safety');
  for (const keypad of survey.keypads)
    if (keypad.emergencyKeys !== 'none') {
      hold(keypad.id, 'emergency-keys');
      for (const { id, cable } of field.wiring.conductors) if (cable === keypad.cable) conductors.add(id);
    }
  if (heldOut.size > 0) spread();
  return { heldOut: [...heldOut.values()], ids: new Set(heldOut.keys()), zones, conductors };

  function hold(id: string, reason: HeldOut['reason']): void {
    if (heldOut.has(id)) return;
    heldOut.set(id, { detector: id, reason });
    for (const conductor of conductorsOf(id)) conductors.add(conductor.id);
  }

  /** One held detector may hold its loop, and the loop a core that another detector needs: until it settles. */
  function spread(): void {
    for (let before = -1; before !== heldOut.size + zones.size; ) {
      before = heldOut.size + zones.size;
      for (const { id, detectors } of survey.zones) holdLoop(id, detectors);
      // A tamper loop stays whole, but what it passes through still reports by a pair of its own.
      for (const { id, through } of survey.tampers) holdLoop(id, through, []);
      for (const { id } of survey.detectors)
        if ([...conductorsOf(id)].some((conductor) => conductors.has(conductor.id)))
          hold(id, 'shares-life-safety');
    }
  }

  function holdLoop(loop: string, members: readonly string[], falling = members): void {
    const conductorsOfLoop = field.conductorsOf(loop);
    const isHeld =
      members.some((member) => heldOut.has(member)) || conductorsOfLoop.some(({ id }) => conductors.has(id));
    if (!isHeld || zones.has(loop)) return;
    zones.add(loop);
    for (const { id } of conductorsOfLoop) conductors.add(id);
    for (const member of falling) hold(member, 'shares-life-safety');
  }
}
