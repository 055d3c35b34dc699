import type { EndSymbol } from './strip.ts';

const INK = { fill: 'none', stroke: '#111', strokeWidth: 1.3 } as const;

/** A resistor in a line from left to right, as a rectangle (IEC 60617). */
export function ResistorSymbol({ x, y }: { readonly x: number; readonly y: number }) {
  return <rect x={x} y={y - 5} width={30} height={10} {...INK} fill="#fff" />;
}

/** What a conductor ends on, to the right of `x`: contact, supply, sounder, or nothing more than an end. */
export function EndOfConductor({
  symbol,
  x,
  y,
}: {
  readonly symbol: EndSymbol;
  readonly x: number;
  readonly y: number;
}) {
  switch (symbol) {
    case 'closed-contact':
      return <path d={`M${x} ${y}h4m7 0h2m-2 4v-6m-7 2l8 -3`} {...INK} />;
    case 'open-contact':
      return <path d={`M${x} ${y}h4l7 -5m0 5h2`} {...INK} />;
    case 'plus':
    case 'minus':
      return (
        <g>
          <circle cx={x + 6} cy={y} r={5} {...INK} />
          <path
            d={symbol === 'plus' ? `M${x + 3} ${y}h6m-3 -3v6` : `M${x + 3} ${y}h6`}
            {...INK}
            strokeWidth={1.1}
          />
        </g>
      );
    case 'sounder':
      return <path d={`M${x} ${y}h4m0 5v-10a6.5 5 0 0 1 0 10zm0 1.5v-13`} {...INK} />;
    case 'end':
      return <circle cx={x + 4} cy={y} r={2.4} {...INK} />;
  }
}
