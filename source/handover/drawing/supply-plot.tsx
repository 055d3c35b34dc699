import { shortened } from './strip-drawing.tsx';
import type { SupplyRun } from './supply-run.ts';

const WIDTH = 760;
const LEFT = 210;
const RIGHT = 24;
const ROW = 30;
const AXIS = 34;

/**
 * Voltage along one supply run against the minimum of each detector: a row a detector, nearest first, with
 * its minimum as an upright bar, the voltage at the end of the battery as a dot and on mains as a square.
 * Shapes, not colours, tell them apart.
 */
export function SupplyPlot({ run }: { readonly run: SupplyRun }) {
  const volts = run.points.flatMap((p) => [p.minimumVolts, p.mainsVolts, p.batteryEndVolts]);
  const low = Math.floor(Math.min(...volts) - 0.5);
  const high = Math.ceil(Math.max(...volts) + 0.5);
  const x = (v: number) => LEFT + ((v - low) / (high - low)) * (WIDTH - LEFT - RIGHT);
  const height = run.points.length * ROW + AXIS;
  const ticks = Array.from({ length: high - low + 1 }, (_, index) => low + index);
  return (
    <svg
      className="plot"
      viewBox={`0 0 ${WIDTH} ${height}`}
      role="img"
      aria-label={`Voltage along ${run.cable}: ${describeRun(run)}`}
    >
      {ticks.map((tick) => (
        <g key={tick}>
          <line x1={x(tick)} y1={0} x2={x(tick)} y2={height - AXIS + 4} stroke="#ccc" strokeWidth={0.8} />
          <text x={x(tick)} y={height - 16} textAnchor="middle" className="tick">
            {tick} V
          </text>
        </g>
      ))}
      {run.points.map((point, index) => {
        const y = index * ROW + ROW / 2;
        const short = point.batteryEndVolts < point.minimumVolts;
        return (
          <g key={point.id}>
            <text x={4} y={y - 1} className="role">
              {shortened(point.name, 28)}
            </text>
            <text x={4} y={y + 12} className="tick">
              {`${Math.round(point.metres)} m${short ? ', too low at battery end' : ''}`}
            </text>
            <line
              x1={x(point.batteryEndVolts)}
              y1={y}
              x2={x(point.mainsVolts)}
              y2={y}
              stroke="#555"
              strokeWidth={1}
            />
            <rect x={x(point.minimumVolts) - 1.5} y={y - 9} width={3} height={18} fill="#222" />
            <circle
              cx={x(point.batteryEndVolts)}
              cy={y}
              r={4.5}
              fill={short ? '#fff' : '#222'}
              stroke="#222"
              strokeWidth={2}
            />
            <rect
              x={x(point.mainsVolts) - 4}
              y={y - 4}
              width={8}
              height={8}
              fill="#fff"
              stroke="#222"
              strokeWidth={2}
            />
          </g>
        );
      })}
    </svg>
  );
}

function describeRun(run: SupplyRun): string {
  return run.points
    .map(
      (p) =>
        `${p.name} at ${Math.round(p.metres)} metres: minimum ${p.minimumVolts} V, ${p.batteryEndVolts.toFixed(2)} V at battery end, ${p.mainsVolts.toFixed(2)} V on mains`,
    )
    .join('; ');
}
