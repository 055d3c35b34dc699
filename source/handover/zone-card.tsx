import type { Plan } from '../plan/plan.ts';
import { reportsWords } from './as-left/words.ts';
import { nameOfDetector } from './drawing/strip.ts';
import { plain } from './plain.ts';
import { type HandoverSource, isClosed } from './sections/source.ts';

/** One line of the card for the enclosure door. */
type CardLine = {
  readonly input: string;
  readonly reports: string;
  readonly atRest: string;
  readonly cable: string;
};

/** What the card says: each input, what reports on it, how it stands at rest, and on which cable. */
export function zoneCard(source: HandoverSource): CardLine[] {
  const { plan } = source;
  const detector = (id: string) => plan.survey.detectors.find((d) => d.id === id);
  return plan.circuits.map((circuit) => ({
    input: `${circuit.board} ${circuit.input}`,
    reports: [
      reportsWords(source, circuit, `Tamper loop ${circuit.fromZone}`),
      ...untested(source, circuit),
    ].join('; '),
    atRest:
      circuit.contact === 'normally-open' ? 'open' : circuit.contact === 'normally-closed' ? 'closed' : '?',
    cable: [...new Set(circuit.detectors.map((id) => detector(id)?.cable ?? ''))].filter(Boolean).join(', '),
  }));
}

/** What nobody has seen work at its input: whoever reads the card must not rely on it. */
function untested(
  { plan, left, collected }: HandoverSource,
  { detectors }: Plan['circuits'][number],
): string[] {
  const { status } = collected.replay.state.context;
  const walked = detectors.filter((id) => `walk.${id}` in status);
  const open = walked.filter((id) => {
    const stands = status[`walk.${id}`];
    // A job of before says what it said then, but for a test that was given up.
    return stands === 'deviated' || (left !== null && stands !== 'done');
  });
  if (open.length === 0) return [];
  if (open.length === detectors.length) return ['NOT TESTED'];
  return [`NOT TESTED: ${open.map((id) => nameOfDetector(plan, id)).join(', ')}`];
}

/** A card of work that is not finished is no card for the door. */
function draftWords(source: HandoverSource): string | null {
  return source.left !== null && !isClosed(source) ? 'NOT FINISHED: not a card for the door yet.' : null;
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
export function zoneCardText(source: HandoverSource): string {
  const lines = zoneCard(source);
  const wide = (of: (line: CardLine) => string) => Math.max(...lines.map((line) => of(line).length), 1);
  const [input, reports, cable] = [wide((l) => l.input), wide((l) => l.reports), wide((l) => l.cable)];
  const rows = lines.map((l) =>
    `${l.input.padEnd(input)}  ${l.reports.padEnd(reports)}  ${l.cable.padEnd(cable)}  at rest ${l.atRest}`.trimEnd(),
  );
  const held = notOnBoard(source.plan);
  const off = held.length === 0 ? [] : ['', `Not on this board: ${held.join(', ')}`];
  const draft = draftWords(source);
  const head = draft === null ? [] : [draft, ''];
  return `${[...head, ...rows, ...off, '', WARNING].join('\n')}\n`;
}

/** The card as a page section, to be cut out and put into the door. */
export function ZoneCard({ source }: { readonly source: HandoverSource }) {
  const held = notOnBoard(source.plan);
  const draft = draftWords(source);
  return (
    <section className="card">
      <h1>Inputs</h1>
      {draft !== null && <p>{draft}</p>}
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
          {zoneCard(source).map((line) => (
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
