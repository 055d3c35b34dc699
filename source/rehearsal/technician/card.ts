import type { OpenStep, TypedValue } from '../../job/action.ts';
import { isAsked } from '../../procedure/asked.ts';
import type { Act, Proof } from '../../procedure/step.ts';
import { answerProof } from './answer.ts';
import { layAsPractised } from './habits.ts';
import type { Visit } from './visit.ts';

/** About how long one act takes, in seconds. Common practice, no source. */
const SECONDS: Readonly<Record<Act['do'], number>> = {
  label: 30,
  lift: 60,
  part: 120,
  cut: 60,
  land: 150,
  insulate: 45,
  'remove-resistor': 240,
  'fit-resistor': 240,
  isolate: 120,
  'connect-source': 120,
  remove: 1200,
  'open-enclosure': 120,
};

/** What a card asks, and does: enough of it to carry it out. */
export type Card = Pick<OpenStep, 'id' | 'acts' | 'proof'>;

/**
 * Carries out one card: does what it does, in the order a person would, and answers each of its proofs from the
 * building as it is at that moment.
 */
export function workCard(visit: Visit, card: Card): Record<string, TypedValue> {
  const values: Record<string, TypedValue> = {};
  const left = [...card.acts];
  for (const proof of card.proof) {
    for (const one of actsBefore(proof, left, card)) {
      carryOut(visit, one);
      left.splice(left.indexOf(one), 1);
    }
    if (isAsked(proof, metIn(values), (field) => values[field]))
      values[proof.field] = answerProof(visit, card.id, proof, values);
  }
  for (const one of left) carryOut(visit, one);
  if (card.id === 'supply.isolate') {
    for (const source of [...visit.soundersPutBack]) carryOut(visit, { do: 'isolate', source });
  }
  return values;
}

function carryOut(visit: Visit, one: Act): void {
  visit.building = layAsPractised(visit.building, one);
  visit.seconds += SECONDS[one.do];
  if (!('source' in one) || !one.source.startsWith('sounder:')) return;
  if (one.do === 'connect-source') visit.soundersPutBack.add(one.source);
  else visit.soundersPutBack.delete(one.source);
}

/**
 * Where loops are read, the work goes with the readings: as found before anything is lifted, then with its leg off,
 * bare before a new resistor is fitted. Else all is done before anything is answered, but on the bench: the board is
 * unplugged once its inputs were seen.
 */
export function actsBefore(proof: Proof, left: readonly Act[], card: Card): Act[] {
  const first = card.proof.find((one) => one.kind === 'reading' && one.point !== null);
  // What is swept beside loops is their ends, as they are when they are read.
  if (proof.kind === 'sweep' && first !== undefined) return actsBefore(first, left, card);
  if (proof.kind !== 'reading' || proof.point === null) {
    return first !== undefined || card.id.startsWith('prepare.inputs') ? [] : [...left];
  }
  if (proof.point.startsWith('found.')) return [];
  if (proof.point.startsWith('bare.'))
    return left.filter((one) => one.do !== 'fit-resistor' || one.contact !== undefined);
  if (!proof.point.startsWith('lifted.')) return [...left];
  const stays = proof.between[1].replace('old:', '');
  return left.filter((one) => one.do === 'lift' && one.at.replace('old:', '') !== stays);
}

/** What an answer so far met: a voltage is read again, and no ohms where one stands. */
/** For {@link isAsked}. */
export const metIn = (values: Readonly<Record<string, TypedValue>>) => (field: string) => {
  const value = values[field];
  return value === undefined ? null : Number.parseFloat(typeof value === 'object' ? value.greatest : value);
};
