import { mayBeMainsFed } from '../../site/outside.ts';
import type { Connection, Plan } from '../plan.ts';
import { remember } from '../remember.ts';
import { branches } from './branches.ts';
import { goesWords } from './goes-words.ts';
import { cut, heading, pad, paragraph } from './layout.ts';
import { jointName } from './words.ts';

type Place = { readonly label: string; readonly role: string; readonly connections: Connection[] };

/** What becomes of a screw that holds no conductor of the survey's cables. */
function bareScrewWords({ survey }: Plan, { label, role }: Place): string {
  const output = survey.outputs.find(({ terminals }) => terminals.includes(label));
  if (output)
    return output.voltage === 'extra-low'
      ? `drives ${output.drives}: not taken over`
      : `drives ${output.drives}: may be mains, hands off, gate first`;
  if (role === 'ac')
    return mayBeMainsFed(survey.outside)
      ? 'old feed: hands off, a licensed electrician isolates it'
      : 'old feed: unplug it, keep it off; never on a new board';
  if (role === 'battery') return 'old battery: leads off, negative first; not used again';
  const loop = [...survey.zones, ...survey.tampers].find(({ terminals }) => terminals.includes(label));
  if (loop) return `${loop.id}: no cable, its switch goes with the panel`;
  return role === 'earth' ? 'earth stays on the enclosure' : 'no wire of the survey on it';
}

/** The old screws with what is on each, in the order of the panel, and where each conductor goes. */
export function oldStripText(plan: Plan, columns: number): string[] {
  const rows = [...placesOf(plan)].filter(
    ([, { connections, role }]) => connections.length > 0 || role !== 'unused',
  );
  const what = (connection: Connection, key: string) =>
    `${hasResistorBefore(plan, connection.conductor, key) ? 'R ' : ''}${connection.conductor} ${connection.colour}`;
  const labels = widest(rows.map(([key, { label }]) => labelled(key, label)));
  const roles = widest(rows.map(([, { role }]) => role));
  const things = widest(rows.flatMap(([key, { connections }]) => connections.map((one) => what(one, key))));
  const goes = widest(rows.flatMap(([, { connections }]) => connections.map((one) => goesWords(plan, one))));
  const room = columns - (labels + 1 + roles + 1 + 5 + things + 1 + 2 + goes);
  // Which detector a cable serves stands below once more: on a crowded strip it gives way.
  const served = widest(plan.connections.map(({ conductor }) => servesWords(plan, conductor)));
  const serves = room < LEAST_SERVES ? 0 : Math.min(room - 1, served);
  const lines = rows.flatMap(([key, place]) => {
    const { label, role, connections } = place;
    const head = `${pad(labelled(key, label), labels)} ${pad(role, roles)} `;
    if (connections.length === 0) return [`${head}${bareScrewWords(plan, place)}`];
    return branches(head, connections, (one) => {
      const middle = serves === 0 ? '' : `${pad(cut(servesWords(plan, one.conductor), serves), serves)} `;
      return `${pad(what(one, key), things)} ${middle}> ${goesWords(plan, one)}`;
    });
  });
  const title = `${pad('screw', labels)} ${pad('role', roles)}      ${pad('conductor', things)} `;
  return [
    ...heading('Old panel, as found, and where each conductor goes', columns),
    ...legend(plan).flatMap((line) => paragraph(line, columns, '', '  ')),
    cut(`${title}${serves === 0 ? '' : `${pad('serves', serves)} `}  goes to`, columns),
    ...lines.map((line) => cut(line, columns)),
  ];
}

const LEAST_SERVES = 6;

/** What the words of the table mean, those that occur. */
function legend(plan: Plan): string[] {
  const by = new Set(plan.connections.map((one) => one.by));
  const atPanel = plan.wiring.resistors.some(
    ({ place, a, b }) => place === 'panel' && !(a.startsWith('old:') && b.startsWith('old:')),
  );
  return [
    atPanel ? 'R: a resistor sits between screw and conductor.' : '',
    by.has('pigtail')
      ? 'By pigtail: spliced with the others of that screw, and one lead from there to it.'
      : '',
    by.has('block') ? 'By block: to a distribution block, and one lead from there to the screw.' : '',
    by.has('extension') ? 'Extended: over a splice and a lead of the same size.' : '',
    by.has('parked') ? 'Park: off its screw, insulated by itself, left long, its label on.' : '',
  ].filter(Boolean);
}

function placesOf(plan: Plan): ReadonlyMap<string, Place> {
  const places = new Map<string, Place>();
  for (const { number, role } of plan.survey.panel.terminals)
    places.set(`old:${number}`, { label: number, role, connections: [] });
  for (const connection of plan.connections) {
    if (!isAtPanel(plan, connection)) continue;
    const key = placeOf(connection);
    const place = places.get(key) ?? { label: labelOf(key), role: roleOf(key), connections: [] };
    places.set(key, place);
    place.connections.push(connection);
  }
  return places;
}

const labelled = (key: string, label: string) => (key.startsWith('old:') ? `[${label}]` : label);
const widest = (texts: readonly string[]) => Math.max(5, ...texts.map((text) => text.length));

const conductorsOf = remember(
  ({ wiring }: Plan) => new Map(wiring.conductors.map((conductor) => [conductor.id, conductor])),
);

function isAtPanel(plan: Plan, { conductor }: Connection): boolean {
  return conductorsOf(plan).get(conductor)!.atPanel;
}

function placeOf({ from }: Connection): string {
  if ('terminal' in from) return `old:${from.terminal}`;
  return 'join' in from ? from.join : 'loose';
}

function labelOf(key: string): string {
  return key.startsWith('join:') ? jointName(key) : key === 'loose' ? '-' : jointName(key);
}

function roleOf(key: string): string {
  return key.startsWith('join:') ? 'splice' : key === 'loose' ? 'loose end' : '';
}

/** What a conductor serves: a detector, sounder, keypad. */
function servesWords(plan: Plan, conductor: string): string {
  return conductorsOf(plan).get(conductor)!.for ?? '';
}

/** A resistor at the panel sits between this screw and this conductor. */
function hasResistorBefore(plan: Plan, conductor: string, key: string): boolean {
  const { near } = conductorsOf(plan).get(conductor)!;
  return (
    near !== key &&
    plan.wiring.resistors.some(
      ({ a, b, place }) => place === 'panel' && (a === key || b === key) && (a === near || b === near),
    )
  );
}
