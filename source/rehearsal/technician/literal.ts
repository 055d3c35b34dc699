import type { TypedValue } from '../../job/action.ts';
import { isAsked } from '../../procedure/asked.ts';
import type { Proof, ReadingProof, SweepProof } from '../../procedure/step.ts';
import type { Building } from '../building/building.ts';
import { type HandAct, handle } from '../building/hands.ts';
import { sweepVolts } from '../building/meter.ts';
import { isPlace } from '../building/places.ts';
import { answerProof, contactNames, sweptAgainst, typeReading, withContacts } from './answer.ts';
import { type Card, metIn } from './card.ts';
import type { Visit } from './visit.ts';

/** How a place of the papers is called in the building: the same word where it says nothing else. */
export type Called = (name: string) => string;

/**
 * What a card says that cannot be done or found; or what had to be done although no act says it, so that the work
 * could go on.
 */
export type Trouble = {
  readonly step: string;
  readonly kind: 'cannot' | 'not-there' | 'unsaid';
  readonly says: string;
};

/** What hands and meter did, one after the other. */
export type Deed =
  | {
      readonly kind: 'act';
      readonly step: string;
      readonly act: HandAct;
      readonly before: Building;
      readonly after: Building;
    }
  | {
      readonly kind: 'read';
      readonly step: string;
      readonly of: ReadingProof['of'] | SweepProof['of'];
      /** Nodes of the building. */
      readonly at: readonly string[];
      readonly building: Building;
    };

/** A technician who does what a card's acts say, in their order, and nothing else. */
export type Literal = {
  readonly visit: Visit;
  readonly called: Called;
  readonly troubles: Trouble[];
  readonly deeds: Deed[];
};

/** Carries out a card to the letter, and answers each of its proofs from the building as it is by then. */
export function workLiterally(literal: Literal, card: Card): Record<string, TypedValue> {
  const values: Record<string, TypedValue> = {};
  let done = 0;
  const doUpTo = (count: number) => {
    for (; done < count; done++) doAct(literal, card.id, card.acts[done]!);
  };
  for (const proof of card.proof) {
    doUpTo(proof.after ?? card.acts.length);
    if (isAsked(proof, metIn(values), (field) => values[field]))
      values[proof.field] = answer(literal, card.id, proof, values);
  }
  doUpTo(card.acts.length);
  return values;
}

/** Does one act of a card, and notes it where it cannot be done as it is said. */
export function doAct(literal: Literal, step: string, act: HandAct): void {
  const { visit } = literal;
  const one = inBuilding(act, literal.called);
  const before = visit.building;
  const { building, cannot } = handle(before, one);
  visit.building = building;
  literal.deeds.push({ kind: 'act', step, act: one, before, after: building });
  // What nobody knows may not be there: the card asks, and it is answered so.
  const isAbsent = 'source' in act && act.source.startsWith('sounder:') && building === before;
  if (cannot !== null && !isAbsent)
    literal.troubles.push({ step, kind: 'cannot', says: `${act.do}: ${cannot}` });
}

/**
 * What came off a screw together is called by its screw; where a resistor sat between, the wires are still spliced as
 * they were when it came off.
 */
function placeOf(called: Called, name: string): string {
  const isSplice = name.startsWith('lifted:') && !name.startsWith('lifted:old:');
  return called(isSplice ? name.slice('lifted:'.length) : name);
}

/** An act with its places under the names that they have in the building. */
function inBuilding(act: HandAct, names: Called): HandAct {
  const called = (name: string) => placeOf(names, name);
  switch (act.do) {
    case 'part':
      return { ...act, join: called(act.join) };
    case 'land':
      return { ...act, at: called(act.at) };
    case 'splice':
      return { ...act, into: called(act.into), from: called(act.from) };
    case 'move':
      return { ...act, from: called(act.from), to: called(act.to) };
    case 'remove-resistor':
    case 'set-jumper':
      return { ...act, resistor: called(act.resistor) };
    case 'fit-resistor':
      return act.between === undefined
        ? act
        : { ...act, between: [called(act.between[0]), called(act.between[1])] };
    default:
      return act;
  }
}

function answer(
  literal: Literal,
  step: string,
  proof: Proof,
  values: Readonly<Record<string, TypedValue>>,
): TypedValue {
  const { visit, deeds } = literal;
  if (proof.kind === 'sweep') return sweep(literal, step, proof);
  if (proof.kind !== 'reading') return answerProof(visit, step, proof, values);
  const between = proof.between.map((name) => probeAt(literal, step, name) ?? 'nowhere');
  const found: ReadingProof = { ...proof, between: [between[0]!, between[1]!] };
  deeds.push({ kind: 'read', step, of: proof.of, at: found.between, building: visit.building });
  return withContacts(visit, contactNames(visit, proof), () => typeReading(visit, found, values));
}

function sweep(literal: Literal, step: string, proof: SweepProof): TypedValue {
  const { visit, deeds } = literal;
  const found = proof.points.flatMap((point) => {
    const node = probeAt(literal, step, point);
    return node === null ? [] : [{ point, node }];
  });
  const nodes = found.map(({ node }) => node);
  deeds.push({ kind: 'read', step, of: proof.of, at: nodes, building: visit.building });
  visit.swept = nodes;
  const swept = sweepVolts(visit.building, proof.of === 'volts-ac' ? 'ac' : 'dc', nodes, sweptAgainst(visit));
  const at = found.find(({ node }) => node === swept.at)?.point ?? proof.points[0] ?? '';
  return { greatest: `${swept.greatest.toFixed(2)} V`, at, points: proof.points.length };
}

/** Where a probe goes; null, and noted, where nothing is there to put it on. */
export function probeAt(literal: Literal, step: string, name: string): string | null {
  const { visit, called, troubles } = literal;
  const { building } = visit;
  if (isInHand(name)) return name;
  const node = placeOf(called, name);
  const wire = building.wires.get(node);
  if (wire !== undefined) return wire.near;
  if (node === 'earth' || isPost(building, node) || isPlace(building, node)) return node;
  troubles.push({ step, kind: 'not-there', says: `there is no ${name}` });
  return null;
}

/** A known source, or a part that is not fitted yet. */
const isInHand = (name: string) => name.startsWith('known') || name.startsWith('part');

/** Posts of sources and of the rails that are there. */
function isPost({ sources, rails }: Building, node: string): boolean {
  return (
    [...sources.values()].some(({ plus, minus }) => plus === node || minus === node) ||
    rails.some(({ plus, minus }) => plus === node || minus === node)
  );
}
