import { insulationHex, stripeHex } from './colours.ts';
import type { DrawnConductor } from './strip.ts';
import { type LaidPosition, type LaidRow, type LaidStrip, LINE, WIDTH, WORDS_AT } from './strip-layout.ts';
import { EndOfConductor, ResistorSymbol } from './symbols.tsx';

const BOX = 54;
/** Where a pigtail, block or splice brings conductors together. */
const BAR = 72;
const COLOUR = { from: 114, to: 156 } as const;

/**
 * One terminal strip, or a part of it that fits on a page: screws in a column, each conductor in its colour with a
 * dark edge, resistors and joins as symbols, number, colour and what it serves in words. Legible in black and white.
 */
export function StripDrawing({ strip }: { readonly strip: LaidStrip }) {
  const name = `${strip.title}: ${strip.says}`;
  return (
    <svg className="strip" viewBox={`0 0 ${WIDTH} ${strip.height}`} role="img" aria-label={name}>
      <title>{strip.title}</title>
      {strip.positions.map((position, index) => (
        <Position key={index} position={position} />
      ))}
    </svg>
  );
}

function Position({ position }: { readonly position: LaidPosition }) {
  const { top, height, shape, role, rows, id } = position;
  return (
    <g>
      {shape === 'screw' && <rect x={1} y={top + 1} width={BOX} height={height - 3} {...EDGE} />}
      {shape === 'screw' && (
        <text x={1 + BOX / 2} y={top + 15} textAnchor="middle" className="screw">
          {id}
        </text>
      )}
      {shape !== 'screw' && (
        <line x1={1} y1={top + height - 1} x2={WIDTH} y2={top + height - 1} stroke="#ccc" strokeWidth={0.8} />
      )}
      {role.map((line, at) => (
        <text key={at} x={62} y={top + 12 + at * LINE} className="role">
          {line}
        </text>
      ))}
      {shape === 'joint' && <Bar rows={rows} x={BAR - 36} />}
      {shape === 'screw' && <Gathered rows={rows} />}
      {rows.map((row) => (
        <Row key={row.y} row={row} shape={shape} />
      ))}
    </g>
  );
}

const EDGE = { fill: 'none', stroke: '#222', strokeWidth: 1.2 } as const;
const LEAD = { stroke: '#222', strokeWidth: 1.3 } as const;

/** Conductors that meet: a dot on each, joined by an upright. */
function Bar({ rows, x }: { readonly rows: readonly LaidRow[]; readonly x: number }) {
  const [first, last] = [rows[0], rows.at(-1)];
  if (first === undefined || last === undefined) return null;
  return (
    <g>
      <line x1={x} y1={first.y} x2={x} y2={last.y} {...LEAD} />
      {rows.map(({ y }) => (
        <circle key={y} cx={x} cy={y} r={3} fill="#111" />
      ))}
    </g>
  );
}

/** Those that come over a pigtail, block or splice, and the one lead that goes on to the screw. */
function Gathered({ rows }: { readonly rows: readonly LaidRow[] }) {
  const over = rows.filter(({ item }) => isGathered(item));
  const first = over[0];
  if (first === undefined) return null;
  return (
    <g>
      <line x1={1 + BOX} y1={first.y} x2={BAR} y2={first.y} {...LEAD} />
      <Bar rows={over} x={BAR} />
    </g>
  );
}

function isGathered(item: LaidRow['item']): boolean {
  return item.kind === 'conductor' && item.by !== null && GATHERED.has(item.by);
}

const GATHERED = new Set(['pigtail', 'block', 'splice']);

function Row({ row, shape }: { readonly row: LaidRow; readonly shape: LaidPosition['shape'] }) {
  const { item, y, words } = row;
  const start =
    shape === 'joint' ? BAR - 36 : isGathered(item) ? BAR : shape === 'screw' ? 1 + BOX : COLOUR.from - 12;
  return (
    <g>
      <line
        x1={item.kind === 'resistor' && shape === 'none' ? BAR - 6 : start}
        y1={y}
        x2={COLOUR.from}
        y2={y}
        {...LEAD}
      />
      {item.kind === 'resistor' ? (
        <ResistorSymbol x={BAR + 6} y={y} />
      ) : (
        <Conductor conductor={item} y={y} capped={shape === 'none'} />
      )}
      {words.map((line, at) => (
        <text key={at} x={WORDS_AT} y={y + 4 + at * LINE} className={at === 0 ? 'strong' : undefined}>
          {line}
        </text>
      ))}
    </g>
  );
}

function Conductor({
  conductor,
  y,
  capped,
}: {
  readonly conductor: DrawnConductor;
  readonly y: number;
  readonly capped: boolean;
}) {
  const { colour, resistor, by, symbol } = conductor;
  const stripe = stripeHex(colour);
  const across = { x1: COLOUR.from, y1: y, x2: COLOUR.to, y2: y };
  const below = resistor ?? by;
  return (
    <g>
      <line {...across} stroke="#222" strokeWidth={6.4} />
      <line {...across} stroke={insulationHex(colour)} strokeWidth={4} />
      {stripe && <line {...across} stroke={stripe} strokeWidth={4} strokeDasharray="6 6" />}
      {resistor !== null && <ResistorSymbol x={BAR + 2} y={y} />}
      {by === 'extended' && <circle cx={BAR} cy={y} r={3} fill="#111" />}
      {capped && <rect x={COLOUR.from - 14} y={y - 4} width={5} height={8} fill="#111" />}
      {below !== null && (
        <text x={BAR + 5} y={y + LINE + 2} className="below">
          {below}
        </text>
      )}
      <EndOfConductor symbol={symbol} x={COLOUR.to} y={y} />
    </g>
  );
}
