import { insulationHex, stripeHex } from './colours.ts';
import type { DrawnConductor, DrawnStrip } from './strip.ts';

const ROW = 22;
const SCREW_WIDTH = 86;
const LINE_START = 272;
const LINE_LENGTH = 70;
const WIDTH = 760;

/**
 * One terminal strip as a drawing: screws in a column, each conductor a line in its colour with a dark edge,
 * its number, its colour in words and what it serves beside it. Legible in black and white.
 */
export function StripDrawing({ strip }: { readonly strip: DrawnStrip }) {
  const rows = strip.positions.map((position) => Math.max(1, position.conductors.length));
  const height = rows.reduce((sum, count) => sum + count * ROW, 0) + 8;
  let top = 4;
  return (
    <svg
      className="strip"
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-label={`${strip.title}: ${describeStrip(strip)}`}
    >
      {strip.positions.map((position, index) => {
        const y = top;
        const tall = rows[index]! * ROW;
        top += tall;
        return (
          <g key={index}>
            <rect
              x={1}
              y={y + 1}
              width={SCREW_WIDTH}
              height={tall - 2}
              fill="none"
              stroke="#222"
              strokeWidth={1.2}
            />
            <text x={SCREW_WIDTH / 2} y={y + tall / 2 + 4} textAnchor="middle" className="screw">
              {shortened(position.id, 12)}
            </text>
            <text x={SCREW_WIDTH + 8} y={y + tall / 2 + 4} className="role">
              {shortened(position.role, 26)}
            </text>
            {position.conductors.map((conductor, place) => (
              <ConductorLine key={place} conductor={conductor} y={y + place * ROW + ROW / 2} />
            ))}
          </g>
        );
      })}
    </svg>
  );
}

function ConductorLine({ conductor, y }: { readonly conductor: DrawnConductor; readonly y: number }) {
  const stripe = stripeHex(conductor.colour);
  const end = LINE_START + LINE_LENGTH;
  return (
    <g>
      <line x1={LINE_START} y1={y} x2={end} y2={y} stroke="#222" strokeWidth={6} />
      <line
        x1={LINE_START}
        y1={y}
        x2={end}
        y2={y}
        stroke={insulationHex(conductor.colour)}
        strokeWidth={3.6}
      />
      {stripe && (
        <line
          x1={LINE_START}
          y1={y}
          x2={end}
          y2={y}
          stroke={stripe}
          strokeWidth={3.6}
          strokeDasharray="7 7"
        />
      )}
      <text x={end + 8} y={y + 4} className="conductor">
        {shortened(conductorWords(conductor), 64)}
      </text>
    </g>
  );
}

function conductorWords({ id, colour, serves, through }: DrawnConductor): string {
  return [`${id} ${colour}`, serves, through].filter((part) => part !== '' && part !== null).join(' · ');
}

/** The drawing in words, for whoever does not see it. */
function describeStrip(strip: DrawnStrip): string {
  return strip.positions
    .map((position) => {
      const held = position.conductors.map((conductor) => conductorWords(conductor)).join('; ');
      return `${position.id}${position.role === '' ? '' : ` (${position.role})`}: ${held === '' ? 'nothing' : held}`;
    })
    .join('. ');
}

/** Cut to a number of graphemes, with an ellipsis, so that a drawing's text never leaves its place. */
export function shortened(text: string, length: number): string {
  const graphemes = [...new Intl.Segmenter(undefined, { granularity: 'grapheme' }).segment(text)];
  if (graphemes.length <= length) return text;
  return `${graphemes
    .slice(0, length - 1)
    .map((g) => g.segment)
    .join('')}…`;
}
