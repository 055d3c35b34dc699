import type { ObservationProof, Proof } from '../../procedure/step.ts';
import { deafSecondsIn, type HeardAnswer, type HeardChange, type Hearing, inputIdOf } from './hearing.ts';

/** What may be taken for the answer of a field, because it was heard. */
export type HeardProposal = {
  readonly field: string;
  /** The answer it would be; null where nothing was heard that answers. */
  readonly answer: 'open' | 'closed' | null;
  /** What was heard, for the record. */
  readonly heard: HeardAnswer;
};

/** Since when a card is open: the first change that counts, and the moment. */
export type Since = { readonly seq: number; readonly atMilliseconds: number };

/** Inputs that move within so long of each other moved together. Common practice, no source. */
export const TOGETHER_MILLISECONDS = 1000;

/**
 * What was heard that answers the observations of a card. Several of one input are answered one after the other, as it is
 * worked and restored. A single one is answered by how the input stands, or by the moment at which it came to show what is
 * asked for, as with a jumper that is put on and taken off again. What the broker kept from earlier answers nothing.
 */
export function proposeHeard(
  proofs: readonly Proof[],
  hearing: Hearing,
  since: Since,
): ReadonlyMap<string, HeardProposal> {
  const observed = proofs.filter((proof) => proof.kind === 'observation');
  const found = new Map<string, HeardProposal>();
  for (const id of new Set(observed.map(inputIdOf))) {
    const asked = observed.filter((proof) => inputIdOf(proof) === id);
    const own = hearing.changes.filter((one) => inputIdOf(one) === id);
    const now = own.filter(({ seq }) => seq >= since.seq);
    const moments = asked.length > 1 ? inTurn(asked, now) : [standing(asked[0]!, own, now, id, hearing)];
    for (const [at, proof] of asked.entries())
      found.set(proof.field, proposal(proof, moments[at] ?? null, now, hearing, since));
  }
  return found;
}

type Moment = Pick<HeardChange, 'state' | 'atMilliseconds'>;

function inTurn(asked: readonly ObservationProof[], now: readonly HeardChange[]): (Moment | null)[] {
  let from = 0;
  return asked.map(({ expect }) => {
    if (from < 0) return null;
    const at = now.findIndex(({ state }, index) => index >= from && state === expect);
    from = at < 0 ? -1 : at + 1;
    return now[at] ?? null;
  });
}

function standing(
  { expect }: ObservationProof,
  own: readonly HeardChange[],
  now: readonly HeardChange[],
  id: string,
  hearing: Hearing,
): Moment | null {
  const before = own.findLast(({ seq }) => seq < (now[0]?.seq ?? hearing.seq));
  const came = before?.state === expect ? undefined : now.find(({ state }) => state === expect);
  if (came) return came;
  const stands = hearing.inputs.get(id);
  return stands === undefined || stands.kept ? null : stands;
}

function proposal(
  proof: ObservationProof,
  moment: Moment | null,
  now: readonly HeardChange[],
  hearing: Hearing,
  since: Since,
): HeardProposal {
  const id = inputIdOf(proof);
  const isNear = (at: number) =>
    moment === null || Math.abs(at - moment.atMilliseconds) <= TOGETHER_MILLISECONDS;
  const others = hearing.changes.filter(
    (one) => one.seq >= since.seq && inputIdOf(one) !== id && isNear(one.atMilliseconds),
  );
  return {
    field: proof.field,
    answer: moment?.state ?? null,
    heard: {
      state: moment?.state ?? 'nothing',
      at: moment === null ? null : new Date(moment.atMilliseconds).toISOString(),
      others: [...new Set(others.map(inputIdOf))],
      changes: now.reduce((sum, { more }) => sum + 1 + more, 0),
      deafSeconds: deafSecondsIn(hearing, since.atMilliseconds, hearing.nowMilliseconds),
    },
  };
}
