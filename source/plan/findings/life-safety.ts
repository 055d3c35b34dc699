import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { listed } from './words.ts';

const SOURCE_ACT =
  'It stays where it is: independent listed protection, or an impairment by whoever answers for it, is recorded before the old panel loses power.';

/** What stays on the old panel, and what must not be disturbed because it hangs together with that. */
export function lifeSafetyFindings(facts: Facts): Finding[] {
  return [...heldOut(facts), ...unseen(facts), ...shares(facts)];
}

function heldOut({ survey, lifeSafety }: Facts): Finding[] {
  return lifeSafety.heldOut.map(({ detector: id, reason }) => {
    const detector = survey.detectors.find((one) => one.id === id);
    const name = detector?.name ?? id;
    const says = {
      'life-safety':
        detector?.kind === 'unknown'
          ? `Nobody knows what ${name} is; until it has been seen, it counts as life safety, and the board is no fire panel.`
          : `${name} is life safety (${detector?.kind.replace('-', ' ')}), and the board is no fire panel.`,
      'emergency-keys': `The keypad ${id} has or may have emergency keys, which go dead with the panel.`,
      'shares-life-safety': `${name} stands in one loop or on one core with a life-safety circuit.`,
    }[reason];
    return finding('life-safety-held-out', 'gate', [id], says, SOURCE_ACT);
  });
}

/** From outside something was seen, or may be there, that the survey does not name. */
function unseen({ survey, lifeSafety }: Facts): Finding[] {
  const { lifeSafety: outside } = survey.outside;
  if (outside === 'none' || lifeSafety.heldOut.length > 0) return [];
  return [
    finding(
      'life-safety-held-out',
      'gate',
      ['outside'],
      outside === 'present'
        ? 'A smoke, heat, gas, medical or similar circuit was seen, and the survey does not name it.'
        : 'Nobody has looked whether a smoke, heat, gas, medical or similar circuit hangs on this panel; until then one does.',
      SOURCE_ACT,
    ),
  ];
}

/** Screws and supply rails that a held-out circuit has in common with what moves. */
function shares({ field, lifeSafety, connections }: Facts): Finding[] {
  const moving = new Set(
    connections.filter(({ by }) => by !== 'untouched').map(({ conductor }) => conductor),
  );
  const screws = new Map<string, { held: string[]; moved: string[] }>();
  for (const { id, screw } of field.wiring.conductors) {
    if (screw === null) continue;
    const here = screws.get(screw) ?? { held: [], moved: [] };
    screws.set(screw, here);
    if (lifeSafety.conductors.has(id)) here.held.push(id);
    else if (moving.has(id)) here.moved.push(id);
  }
  return [...screws]
    .filter(([, { held, moved }]) => held.length > 0 && moved.length > 0)
    .map(([screw, { held, moved }]) =>
      finding(
        'life-safety-shares',
        'gate',
        [`old:${screw}`, ...held, ...moved],
        `Screw ${screw} holds ${listed(held)} of a life-safety circuit together with ${listed(moved)}.`,
        'Loosen it only once independent protection of that circuit, or its impairment, is recorded; hold the life-safety wire under it meanwhile, tighten it again, and have that circuit tested.',
        { held: held.length, moved: moved.length },
      ),
    );
}
