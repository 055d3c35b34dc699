import { liveSources } from '../../job/live-sources.ts';
import type { HandoverSource } from '../sections/source.ts';

/** One source of power as left. */
export type PowerLeft = {
  readonly source: string;
  readonly stands: 'live' | 'off';
  readonly record: number | null;
};

/** Every source that a step takes off or connects, and how it stands; none where acts were not recorded. */
export function powerLeft({ left, collected }: HandoverSource): PowerLeft[] {
  if (left === null) return [];
  const { procedure } = collected.replay;
  const live = new Set(liveSources(procedure, collected.replay.results));
  const sources = procedure.steps.flatMap(({ acts }) =>
    acts.flatMap((act) => ('source' in act ? [act.source] : [])),
  );
  return [...new Set(sources)].map((source) => ({
    source,
    stands: live.has(source) ? 'live' : 'off',
    record: left.by[source] ?? null,
  }));
}
