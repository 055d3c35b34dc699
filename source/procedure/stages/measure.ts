import { conductorsOf } from '../../wiring/act.ts';
import type { WiredConductor } from '../../wiring/wiring.ts';
import { CANNOT, card, choice } from '../card.ts';
import { cautions } from '../cautions.ts';
import { bare, type Facts, lifeSafetyRecords, listed, wire } from '../facts.ts';
import { pointReading } from '../point-reading.ts';
import type { Proof, Step } from '../step.ts';
import { freeEndSweeps, NOT_DEAD } from '../voltage.ts';

/**
 * Stage 7: the named leg of each loop is lifted and the loop read against its other screw. That one is the
 * meter's second point until resistors and joins are done, so the rest is lifted when the strip is cleared.
 */
export function measureSteps(facts: Facts): Step[] {
  const first = found(facts);
  const waits = first.map((step) => step.id);
  return [...first, ...facts.loops.map((loop) => measure(facts, loop, waits))];
}

const FOUND = 'measure.found';

/** Before a wire moves each loop is read at its screws, with whatever resistor sits there. */
function found(facts: Facts): Step[] {
  const points = facts.loops.flatMap((loop) =>
    facts.points('found', loop.id).filter((point) => point.id === `found.${loop.id}.rest`),
  );
  if (points.length === 0) return [];
  return [
    card('measure', {
      id: FOUND,
      title: `Read the ${points.length} loops at their screws, nothing lifted yet`,
      why: 'It is the last time that a resistor at the panel shows in its loop.',
      cautions: cautions('proof-perishes'),
      needs: 'dead',
      about: facts.loops.map((loop) => loop.id),
      proof: points.map((point) => ({ ...pointReading(facts, point, point.id), ...NOTHING_EXPECTED })),
    }),
  ];
}

/**
 * The old board's own input lies beside each loop, so no figure is right or wrong here; and a correction of one loop,
 * which would change its figure, must not take back what was done on all the others.
 */
const NOTHING_EXPECTED = { min: null, nominal: null, max: null, usable: null, open: 'may' } as const;

function measure(facts: Facts, loop: Facts['loops'][number], first: readonly string[]): Step {
  const acts = facts.plan.work.zones[loop.id]?.lift ?? [];
  const leg = new Set(acts.flatMap(conductorsOf));
  const lifted = facts.conductors.filter((one) => leg.has(one.id));
  const points = facts.points(lifted.length > 0 ? 'lifted' : 'found', loop.id);
  const unanswered = loop.detectors.filter((id) => facts.detector(id)?.supply);
  const names = listed(lifted.map((one) => wire(facts, one.id)));
  return card('measure', {
    id: `measure.${loop.id}`,
    title: names === '' ? `Read ${loop.name}` : `Lift ${names} and read ${loop.name}`,
    why:
      unanswered.length > 0
        ? `${noSupply(unanswered)} not judged; ${judgedBeside(facts, points)}.`
        : 'What it reads now is what it read for years, and tells which resistor sits where.',
    cautions: cautions('shared-screw', ...(lifted.length > 0 ? (['voltage-hidden'] as const) : [])),
    acts,
    needs: 'dead',
    waitsFor: [...first, ...liftWaits(facts, lifted)],
    about: [loop.id, ...loop.detectors],
    proof: [
      ...(lifted.length > 0 ? sweptOnceLifted(loop, lifted) : []),
      ...(points.length > 0
        ? points.map((point) => ({ ...pointReading(facts, point), unless: NOT_DEAD }))
        : [choice('loop', loop.name, [['lifted', 'Lifted and insulated', 'pass'], CANNOT])]),
    ],
  });
}

/** Its leg off, the other still on its screw: both are swept before the loop is read between them. */
function sweptOnceLifted(loop: Facts['loops'][number], lifted: readonly WiredConductor[]): Proof[] {
  const legs = lifted.map((one) => one.id);
  const others = loop.terminals.filter((screw) => !lifted.some((one) => isAt(one, screw)));
  return freeEndSweeps([...legs, ...others]);
}

const isAt = (one: WiredConductor, screw: string) => bare(one.screw ?? '') === bare(screw);

function noSupply(detectors: readonly string[]): string {
  const [have, contact] = detectors.length === 1 ? ['has', 'its contact is'] : ['have', 'their contacts are'];
  return `${listed(detectors)} ${have} no supply now, so ${contact}`;
}

/** What a reading still tells with a relay that stands open without supply. */
function judgedBeside(facts: Facts, points: ReturnType<Facts['points']>): string {
  const isOpen = points.length > 0 && points.every((point) => pointReading(facts, point).open === 'must');
  return isOpen
    ? 'the loop stands open and OL is right: this shows that the pair is not shorted, and the rest is read under power'
    : 'cable and resistor are';
}

/** At a screw of the old panel, and not one of those that stay. */
export function isLifted(facts: Facts, one: WiredConductor): boolean {
  return one.atPanel && one.screw !== null && !facts.held.conductors.has(one.id);
}

/**
 * What lifting waits for: the labels of everything on those screws, and the life-safety record where one of
 * them shares a screw or cable with such a circuit.
 */
export function liftWaits(facts: Facts, conductors: readonly WiredConductor[]): string[] {
  const screws = new Set(conductors.map((one) => bare(one.screw ?? '')));
  const there = [...new Set([...screws].flatMap((screw) => facts.onScrew(screw)))];
  const labels = new Set(there.flatMap((one) => facts.labelCard(one.id) ?? []));
  return [...labels, ...sharedWaits(facts, conductors)];
}

/**
 * The life-safety records, where one of these conductors shares a screw, core or feed with such a circuit.
 */
export function sharedWaits(facts: Facts, conductors: readonly WiredConductor[]): string[] {
  return conductors.some((one) => facts.shared.has(one.id)) ? lifeSafetyRecords(facts) : [];
}
