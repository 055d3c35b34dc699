import type { OpenStep, TypedValue } from '../../job/action.ts';
import { isAsked } from '../../procedure/asked.ts';
import type { Act } from '../../wiring/act.ts';
import { act as lay } from '../building/hands.ts';
import { answerProof } from './answer.ts';
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
  splice: 180,
  'set-jumper': 180,
  move: 60,
  link: 120,
  mount: 600,
  work: 20,
  isolate: 120,
  'connect-source': 120,
  remove: 1200,
  'open-enclosure': 120,
};

/** What a card asks, and does: enough of it to carry it out. */
export type Card = Pick<OpenStep, 'id' | 'acts' | 'proof'>;

/**
 * Carries out one card to the letter: its acts in their order and nothing else, and each of its proofs answered from the
 * building as it is where the proof stands among them.
 */
export function workCard(visit: Visit, card: Card): Record<string, TypedValue> {
  const values: Record<string, TypedValue> = {};
  let done = 0;
  const doUpTo = (count: number) => {
    for (; done < count; done++) carryOut(visit, card.acts[done]!);
  };
  for (const proof of card.proof) {
    doUpTo(proof.after ?? card.acts.length);
    if (isAsked(proof, metIn(values), (field) => values[field]))
      values[proof.field] = answerProof(visit, card.id, proof, values);
  }
  doUpTo(card.acts.length);
  if (card.id === 'supply.isolate') {
    for (const source of [...visit.soundersPutBack]) carryOut(visit, { do: 'isolate', source });
  }
  return values;
}

function carryOut(visit: Visit, one: Act): void {
  visit.building = lay(visit.building, one);
  visit.seconds += SECONDS[one.do];
  if (!('source' in one) || !one.source.startsWith('sounder:')) return;
  if (one.do === 'connect-source') visit.soundersPutBack.add(one.source);
  else visit.soundersPutBack.delete(one.source);
}

/** What an answer so far met, for {@link isAsked}: a voltage is read again, and no ohms where one stands. */
export const metIn = (values: Readonly<Record<string, TypedValue>>) => (field: string) => {
  const value = values[field];
  return value === undefined ? null : Number.parseFloat(typeof value === 'object' ? value.greatest : value);
};
