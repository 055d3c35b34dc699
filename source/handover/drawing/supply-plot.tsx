import { metres } from '../../plan/findings/words.ts';
import { cut } from '../../plan/text/layout.ts';
import { arrivingWords } from '../../plan/text/supply-words.ts';
import { plain } from '../plain.ts';
import { WIDTH } from './strip-layout.ts';
import type { RunPoint, SupplyRun } from './supply-run.ts';

const ROW = 32;
const AXIS = 22;
const EDGE = 16;
const COLUMNS = 52;
/** So many that a drawing of them still fits on a page beside others. */
const MOST_POINTS = 20;

/** Runs in as many drawings as it takes for each to fit on a page. */
export function plotsOf(runs: readonly SupplyRun[]): SupplyRun[][] {
  const plots: SupplyRun[][] = [[]];
  let filled = 0;
  for (const run of runs.flatMap(shortEnough)) {
    if (filled > 0 && filled + run.points.length > MOST_POINTS) {
      plots.push([]);
      filled = 0;
    }
    plots.at(-1)!.push(run);
    filled += run.points.length;
  }
  return plots.filter((plot) => plot.length > 0);
}

function shortEnough(run: SupplyRun): SupplyRun[] {
  const parts = Math.ceil(run.points.length / MOST_POINTS);
  return Array.from({ length: parts }, (_, part) => ({
    ...run,
    points: run.points.slice(part * MOST_POINTS, (part + 1) * MOST_POINTS),
  }));
}

/**
 * Voltage along supply runs against the minimum of each detector: a row a detector, nearest first, with its minimum
 * as an upright bar, the voltage at the end of the battery as a dot and on mains as a square. Shapes, not colours,
 * tell them apart.
 */
export function SupplyPlot({ runs }: { readonly runs: readonly SupplyRun[] }) {
  const rows = runs.flatMap((run) => run.points.map((point) => ({ run, point })));
  const volts = rows.flatMap(({ point: p }) => [p.minimumVolts, p.mainsVolts, p.batteryEndVolts]);
  const low = Math.floor(Math.min(...volts) - 0.3);
  const high = Math.ceil(Math.max(...volts) + 0.3);
  const x = (v: number) => EDGE + ((v - low) / (high - low)) * (WIDTH - 2 * EDGE);
  const foot = rows.length * ROW;
  const step = Math.ceil((high - low) / 8);
  const ticks = Array.from({ length: Math.floor((high - low) / step) + 1 }, (_, index) => low + index * step);
  const name = `Voltage along supply runs. ${rows.map(({ run, point }) => sayPoint(run, point)).join('; ')}`;
  return (
    <svg className="plot" viewBox={`0 0 ${WIDTH} ${foot + AXIS}`} role="img" aria-label={name}>
      <title>Voltage along supply runs</title>
      {ticks.map((tick) => (
        <text key={tick} x={x(tick)} y={foot + 18} textAnchor="middle">
          {`${tick} V`}
        </text>
      ))}
      {rows.map(({ point }, index) => (
        <path
          key={point.id}
          d={ticks.map((tick) => `M${x(tick).toFixed(1)} ${index * ROW + 16}v15`).join('')}
          stroke="#ccc"
          strokeWidth={0.8}
        />
      ))}
      {rows.map(({ run, point }, index) => (
        <Point key={point.id} run={run} point={point} x={x} y={index * ROW} />
      ))}
    </svg>
  );
}

function Point({
  run,
  point,
  x,
  y,
}: {
  readonly run: SupplyRun;
  readonly point: RunPoint;
  readonly x: (volts: number) => number;
  readonly y: number;
}) {
  const middle = y + 23;
  const short = isShort(point);
  const where = ` · ${run.cable}, ${metres(point.metres)}${short ? ', TOO LOW' : ''}`;
  return (
    <g>
      <text x={2} y={y + 12}>
        {`${cut(plain(point.name), COLUMNS - where.length)}${where}`}
      </text>
      <line x1={x(point.batteryEndVolts)} y1={middle} x2={x(point.mainsVolts)} y2={middle} stroke="#555" />
      <rect x={x(point.minimumVolts) - 1.5} y={middle - 7} width={3} height={14} fill="#222" />
      <circle
        cx={x(point.batteryEndVolts)}
        cy={middle}
        r={4}
        fill={short ? '#fff' : '#222'}
        stroke="#222"
        strokeWidth={1.8}
      />
      <rect
        x={x(point.mainsVolts) - 3.5}
        y={middle - 3.5}
        width={7}
        height={7}
        fill="#fff"
        stroke="#222"
        strokeWidth={1.8}
      />
    </g>
  );
}

const isShort = (point: RunPoint) => arrivingWords(point).isLow;

function sayPoint({ cable }: SupplyRun, p: RunPoint): string {
  const { needs, batteryEnd, mains } = arrivingWords(p);
  return plain(
    `${p.name} on ${cable}, ${metres(p.metres)}: minimum ${needs}, ${batteryEnd} at the end of the battery, ${mains} on mains`,
  );
}
