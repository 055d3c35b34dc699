import type { AsLeft } from '../../job/as-left-record.ts';
import { contactsOf } from '../../plan/loops/contacts.ts';
import type { Circuit, FittedWork, Plan } from '../../plan/plan.ts';
import { readBetween } from '../../wiring/read-between.ts';
import type { FittedResistor } from '../../wiring/wiring.ts';

/** Whether a contact hangs on its input: it does, it does not, or nobody can say. */
export type Hangs = 'on' | 'off' | 'unknown';

/** The contacts that were planned for an input, by their keys, and how each hangs on it; and what hangs there beside. */
export type CircuitLeft = {
  readonly hangs: ReadonlyMap<string, Hangs>;
  readonly more: readonly string[];
};

/** What hangs on an input as left: what a meter on its two terminals would find. */
export function circuitLeft(plan: Plan, circuit: Circuit, left: AsLeft | null): CircuitLeft {
  const planned = contactsOf(circuit.expression).map(({ detector }) => detector);
  if (left === null) return { hangs: new Map(planned.map((key) => [key, 'on'])), more: [] };
  const { board, terminal, common } = circuit;
  const found = readBetween(left.wiring, `${board}:${terminal}`, `${board}:${common}`);
  const there = contactsOf(found).map(({ detector }) => detector);
  // In a row, or behind one common, a wire that nobody knows of leaves all of them in doubt.
  const isDoubtful = planned.some(hasUnknownWire(plan, left));
  return {
    hangs: new Map(planned.map((key) => [key, there.includes(key) ? 'on' : isDoubtful ? 'unknown' : 'off'])),
    more: there.filter((key) => !planned.includes(key)),
  };
}

/** Whether any wire of the detector's cable, or of one that it comes by, is where nobody knows. */
function hasUnknownWire({ survey }: Plan, { wiring }: AsLeft): (key: string) => boolean {
  const unknown = new Set(
    wiring.conductors.filter(({ near }) => near.startsWith('unknown:')).map(({ cable }) => cable),
  );
  const cableOf = new Map(survey.detectors.map(({ id, cable }) => [id, cable]));
  const fromOf = new Map(survey.cables.map(({ id, from }) => [id, from]));
  return (key) => {
    let cable = cableOf.get(key.replace(/\.tamper$/, '')) ?? undefined;
    for (let steps = 0; cable !== undefined && steps < survey.cables.length + 1; steps++) {
      if (unknown.has(cable)) return true;
      cable = fromOf.get(cable);
    }
    return false;
  };
}

/** One resistor of a zone as it stands, and the record that made it so. */
export type ResistorLeft = {
  readonly id: string;
  readonly stands: 'out' | 'in' | 'kept' | 'fitted' | 'missing' | 'unknown';
  readonly ohms: number | 'unknown';
  readonly at: string;
  readonly record: number | null;
};

/** The resistors of a zone as left: each that was there, and each that was fitted. */
export function resistorsLeft(plan: Plan, zone: string, left: AsLeft): ResistorLeft[] {
  const fitted = plan.zones.find(({ id }) => id === zone)?.fitted ?? [];
  const own = left.wiring.resistors.filter((one) => one.zone === zone);
  const record = (id: string) => left.by[id] ?? recordOfDifference(left, id);
  const old = fitted.map((one): ResistorLeft => {
    const now = own.find(({ id }) => id === one.id);
    const said = left.differs.find(({ subject }) => subject === one.id);
    const stands = said?.is === 'unknown' ? { stands: 'unknown' as const, ohms: one.ohms } : {};
    return { id: one.id, ...standsNow(one, now, one.id in left.by), ...stands, record: record(one.id) };
  });
  const fresh = own
    .filter(({ id }) => !fitted.some((one) => one.id === id))
    .map((one): ResistorLeft => {
      // One of a loop that no input takes was there before: it was not fitted.
      const wasThere = plan.wiring.resistors.some(({ id, ohms }) => id === one.id && ohms === one.ohms);
      const stands = wasThere ? { stands: 'in' as const } : {};
      return { id: one.id, ...fittedNow(one), ...stands, record: record(one.id) };
    });
  const missing = left.differs
    .filter(
      ({ kind, subject, planned, is }) =>
        kind === 'resistor' && planned !== null && is === null && subject.includes(':'),
    )
    .filter(({ subject }) => isOfZone(plan, zone, subject))
    .map(({ subject, planned, record: n }): ResistorLeft => {
      const [ohms, at = ''] = (planned ?? '').split(' ');
      return { id: subject, stands: 'missing', ohms: Number(ohms), at, record: n };
    });
  return [...old, ...fresh, ...missing];
}

function recordOfDifference({ differs }: AsLeft, id: string): number | null {
  return differs.find(({ subject }) => subject === id)?.record ?? null;
}

function standsNow(
  old: FittedWork,
  now: FittedResistor | undefined,
  isTouched: boolean,
): Pick<ResistorLeft, 'stands' | 'ohms' | 'at'> {
  const at = typeof old.at === 'string' ? old.at : old.at.detector;
  if (now === undefined) return { stands: 'out', ohms: old.ohms, at };
  // One may be replaced by another of the same value.
  if (now.ohms !== old.ohms || (old.work === 'replace' && isTouched))
    return { stands: 'fitted', ohms: now.ohms, at };
  return { stands: old.work === 'keep' ? 'kept' : 'in', ohms: now.ohms, at };
}

function fittedNow({ ohms, place }: FittedResistor): Pick<ResistorLeft, 'stands' | 'ohms' | 'at'> {
  const at = place === null ? 'unknown' : typeof place === 'string' ? place : place.detector;
  return { stands: place === null ? 'unknown' : 'fitted', ohms, at };
}

/** `fitted:b1/3` or `fitted:loft.alarm`: of the zone whose input or detector that is. */
function isOfZone(plan: Plan, zone: string, subject: string): boolean {
  const place = subject.slice(subject.indexOf(':') + 1);
  const circuit = plan.circuits.find(({ board, input }) => place === `${board}/${input}`);
  if (circuit) return circuit.fromZone === zone;
  const detectors = plan.survey.zones.find(({ id }) => id === zone)?.detectors ?? [];
  return detectors.some((id) => place.startsWith(`${id}.`));
}
