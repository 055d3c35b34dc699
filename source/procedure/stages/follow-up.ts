import type { Circuit } from '../../plan/plan.ts';
import { deviceReading } from '../../plan/supply/readings.ts';
import { reading } from '../card.ts';
import type { Facts } from '../facts.ts';
import type { Proof } from '../step.ts';

/** An input that was looked at, and what it should have shown. */
type Looked = { readonly field: string; readonly expect: 'open' | 'closed' };

/**
 * What tells the causes apart where an input does not show what it should: the supply at the detector's own
 * terminals, and the volts across its own contact. An open contact of a circuit that is whole has the input's
 * voltage across it, a closed one none.
 */
export function followUps(
  facts: Facts,
  circuit: Circuit,
  detectors: readonly string[],
  looked: Looked,
  states: Readonly<Record<string, 'rest' | 'active'>> = {},
): Proof[] {
  if (circuit.purpose === 'tamper') return [];
  const when = { seen: looked.field, not: looked.expect };
  const only = `Only if input ${circuit.input} does not show ${looked.expect}`;
  return detectors.flatMap((id) => {
    const name = facts.detector(id)?.name ?? id;
    const contact = facts.plan.wiring.contacts.find(
      (one) => one.detector === id && one.purpose === 'alarm' && one.zone === circuit.fromZone,
    );
    return [
      ...supplyAt(facts, circuit, id).map((window) =>
        reading({
          ...window,
          // It tells causes apart and lets nothing pass.
          usable: null,
          field: `supply-${id}`,
          of: 'volts-dc',
          label: `${only}: supply at the terminals of ${name}`,
          when,
        }),
      ),
      ...(contact === undefined
        ? []
        : [
            reading({
              field: `contact-${id}`,
              of: 'volts-dc',
              label: `${only}: volts across the contact of ${name} by itself`,
              between: [contact.a, contact.b],
              with: states,
              when,
            }),
          ]),
    ];
  });
}

/** Where a detector's supply is read and what it should be: computed, within the tolerance of its source. */
export function supplyAt(facts: Facts, { board: boardId }: Pick<Circuit, 'board'>, id: string) {
  const window = deviceReading(facts.plan, boardId, id);
  if (window === null) return [];
  const load = facts.plan.wiring.loads.find((one) => one.device === id);
  return [{ between: [load?.positive ?? id, load?.negative ?? id] as const, ...window }];
}
