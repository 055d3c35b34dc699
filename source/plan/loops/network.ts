import type { Expression } from '../../electrical/loop.ts';
import type { Loop } from '../../site/survey.ts';
import { resistorOf } from '../../wiring/elements.ts';
import { type Edge, reduceBetween } from '../../wiring/reduce.ts';
import type { FittedResistor, WiredConductor } from '../../wiring/wiring.ts';
import type { ResistorWork } from '../plan.ts';
import type { Elements } from './elements.ts';
import type { Field } from './field.ts';

const THROUGH: Expression = { kind: 'series', of: [] };

/** How a zone's resistors stand at a stage of the work. */
export type ResistorsStand = 'as-found' | 'panel-out' | ResistorWork;

/** The loop of some contacts between two nodes, at a stage of the work. */
export type LoopQuestion = {
  readonly zone: string;
  readonly loop: Loop;
  /** Contacts that are part of it; all of the zone's where null. */
  readonly detectors: readonly string[] | null;
  readonly resistors: ResistorsStand;
  /** Where a conductor's panel end is at that stage. */
  readonly nearOf: (conductor: WiredConductor) => string;
  readonly links?: readonly (readonly [string, string])[];
};

/** The edges of the field that a question is about, ready to be read between any two nodes. */
export function edgesOf(field: Field, elements: Elements, question: LoopQuestion): Edge[] {
  const { zone, detectors, resistors, nearOf } = question;
  const contacts = field
    .contactsOf(zone)
    .filter(({ detector }) => detectors === null || detectors.includes(detector));
  // A tamper contact in the row of a detection loop breaks it: it gets no resistor of its own.
  const watches = ({ purpose }: (typeof contacts)[number]) =>
    purpose === 'alarm' || contacts.every((one) => one.purpose === 'tamper');
  const edges: Edge[] = contacts.map((contact) => ({
    a: contact.a,
    b: contact.b,
    expression: watches(contact)
      ? withAlarmResistor(elements.contact(contact), resistors)
      : elements.contact(contact),
  }));
  for (const conductor of conductorsNear(field, contacts, question))
    edges.push({ a: nearOf(conductor), b: conductor.far, expression: elements.conductor(conductor) });
  for (const resistor of field.resistorsOf(zone)) {
    const expression = resistorAt(field, elements, question.loop, resistor, resistors);
    if (expression) edges.push({ a: resistor.a, b: resistor.b, expression });
  }
  for (const [a, b] of question.links ?? []) edges.push({ a, b, expression: THROUGH });
  return edges;
}

/** What a meter reads between two nodes, as an expression of the contacts' states. */
export function readLoop(
  field: Field,
  elements: Elements,
  question: LoopQuestion,
  from: string,
  to: string,
): Expression {
  return reduceBetween(edgesOf(field, elements, question), from, to);
}

/** Conductors that hang together with the contacts; through a panel node only by way of `nearOf`. */
function conductorsNear(
  field: Field,
  contacts: readonly { a: string; b: string }[],
  { zone }: LoopQuestion,
): Set<WiredConductor> {
  const found = new Set<WiredConductor>();
  const seen = new Set<string>(contacts.flatMap(({ a, b }) => [a, b]));
  for (const node of seen) {
    for (const conductor of field.conductorsAt.get(node) ?? []) {
      found.add(conductor);
      seen.add(conductor.far);
      if (!conductor.atPanel) seen.add(conductor.near);
    }
    for (const resistor of field.resistorsAt.get(node) ?? [])
      if (resistor.zone === zone) {
        seen.add(resistor.a);
        seen.add(resistor.b);
      }
  }
  return found;
}

/** A board that supervises with two resistors wants one at each contact: across one in the row, in row with one across. */
function withAlarmResistor(contact: Expression, stand: ResistorsStand): Expression {
  const ohms = typeof stand === 'object' ? stand.newAlarmOhms : undefined;
  if (ohms === undefined || contact.kind !== 'contact') return contact;
  return { kind: contact.sense === 'normally-open' ? 'series' : 'parallel', of: [contact, resistorOf(ohms)] };
}

function resistorAt(
  field: Field,
  elements: Elements,
  loop: Loop,
  resistor: FittedResistor,
  stand: ResistorsStand,
): Expression | null {
  const gone = standsAcross(field, elements, loop, resistor) ? null : THROUGH;
  if (stand === 'as-found') return elements.resistor(resistor);
  const atPanel = isAtPanel(resistor);
  // What stands at the panel is landed anew with the conductors, so it is no part of the field any more.
  if (atPanel) return null;
  if (stand === 'panel-out') return elements.resistor(resistor);
  switch (stand.work) {
    case 'keep':
      return elements.resistor(resistor);
    case 'replace':
      return resistor.role === 'end-of-line' && stand.newOhms !== null ? resistorOf(stand.newOhms) : gone;
    default:
      return gone;
  }
}

/** Whether a resistor sits in the old panel's enclosure: between its screws, or in a splice there. */
export function isAtPanel({ place, a, b }: FittedResistor): boolean {
  return place === 'panel' || (place === null && isPanelNode(a) && isPanelNode(b));
}

function isPanelNode(node: string): boolean {
  return node.startsWith('old:') || node.startsWith('join:');
}

/** True where taking it out leaves a gap nobody needs; false where the ends are made through. */
function standsAcross(field: Field, elements: Elements, loop: Loop, resistor: FittedResistor): boolean {
  const { a, b, role, zone } = resistor;
  const contacts = field.contactsOf(zone);
  const bridgesContact = contacts.some((contact) => new Set([contact.a, contact.b, a, b]).size === 2);
  if (bridgesContact) return true;
  if (role !== 'end-of-line') return false;
  if (loop.style === 'across') return true;
  const senses = contacts.map((contact) => elements.contact(contact)).filter((one) => one.kind === 'contact');
  return loop.style === 'two-resistor' && senses.some(({ sense }) => sense === 'normally-open');
}
