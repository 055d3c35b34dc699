import type { Plan } from '../plan/plan.ts';
import { plain } from './plain.ts';

/** One line of the card for the enclosure door. */
type CardLine = {
  readonly input: string;
  readonly reports: string;
  readonly atRest: string;
  readonly cable: string;
};

/** What the card says: each input, what reports on it, how it stands at rest, and on which cable. */
export function zoneCard(plan: Plan): CardLine[] {
  const detector = (id: string) => plan.survey.detectors.find((d) => d.id === id);
  return plan.circuits.map((circuit) => ({
    input: `${circuit.board} ${circuit.input}`,
    reports:
      circuit.purpose === 'tamper'
        ? `Tamper loop ${circuit.fromZone}`
        : circuit.detectors.map((id) => detector(id)?.name ?? id).join(' + '),
    atRest:
      circuit.contact === 'normally-open' ? 'open' : circuit.contact === 'normally-closed' ? 'closed' : '?',
    cable: [...new Set(circuit.detectors.map((id) => detector(id)?.cable ?? ''))].filter(Boolean).join(', '),
  }));
}

/** What stays off the boards, said on the door so that nobody looks for it there. */
function notOnBoard(plan: Plan): string[] {
  return plan.heldOut.map(
    (held) => plan.survey.detectors.find((d) => d.id === held.detector)?.name ?? held.detector,
  );
}

const WARNING =
  'This board gives no fire, smoke or gas protection. Before opening: adapter out, fused battery lead off, dead proved.';

/** The zone card as text: one line an input, what it reports, its cable and how it stands at rest. */
export function zoneCardText(plan: Plan): string {
  const lines = zoneCard(plan);
  const wide = (of: (line: CardLine) => string) => Math.max(...lines.map((line) => of(line).length), 1);
  const [input, reports, cable] = [wide((l) => l.input), wide((l) => l.reports), wide((l) => l.cable)];
  const rows = lines.map((l) =>
    `${l.input.padEnd(input)}  ${l.reports.padEnd(reports)}  ${l.cable.padEnd(cable)}  at rest ${l.atRest}`.trimEnd(),
  );
  const held = notOnBoard(plan);
  const off = held.length === 0 ? [] : ['', `Not on this board: ${held.join(', ')}`];
  return `${[...rows, ...off, '', WARNING].join('\n')}\n`;
}

/** The card as a page section, to be cut out and put into the door. */
export function ZoneCard({ plan }: { readonly plan: Plan }) {
  const held = notOnBoard(plan);
  return (
    <section className="card">
      <h1>Inputs</h1>
      <table>
        <colgroup>
          {[14, 54, 18, 14].map((width, place) => (
            <col key={place} style={{ width: `${width}%` }} />
          ))}
        </colgroup>
        <thead>
          <tr>
            {['input', 'reports', 'cable', 'at rest'].map((name) => (
              <th key={name} scope="col">
                {name}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {zoneCard(plan).map((line) => (
            <tr key={line.input}>
              <td data-label="input">{line.input}</td>
              <td data-label="reports">{plain(line.reports)}</td>
              <td data-label="cable">{line.cable}</td>
              <td data-label="at rest">{line.atRest}</td>
            </tr>
          ))}
        </tbody>
      </table>
      {held.length > 0 && <p>Not on this board: {plain(held.join(', '))}</p>}
      <p>{WARNING}</p>
    </section>
  );
}
