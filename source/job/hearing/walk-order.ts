/**
 * How what was heard fits the order that was walked, stop by stop: by itself; another input at this one's turn; nothing.
 * `at` is the place of the pulse in what was heard.
 */
export type Fit =
  | { readonly is: 'itself'; readonly at: number }
  | { readonly is: 'another'; readonly at: number }
  | { readonly is: 'nothing' };

/** What was heard and fits no stop, with the stop whose turn it was. */
export type Stray = { readonly at: number; readonly asked: number };

/**
 * What it costs to believe something. Another input at a stop's turn costs less than one stop that is silent together with
 * a pulse from nowhere, so that two exchanged neighbours are seen as such; a pulse at nobody's turn costs most, the same input again next to nothing.
 */
const COST = {
  itself: 0,
  another: 0.9,
  exchanged: 1.5,
  silent: 1,
  deaf: 0.1,
  stray: 2,
  again: 0.05,
} as const;
type Step = 'itself' | 'another' | 'exchanged' | 'silent' | 'stray' | 'again';

/**
 * Fits what was heard to the stops in the order they are walked, in the cheapest way there is (Wagner and Fischer 1974, "The
 * String-to-String Correction Problem"; two neighbours
 * exchanged as one: Damerau 1964). Stops after the last that was heard are still to come and cost nothing.
 *
 * @param stops ids of the inputs, in the order of the walk
 * @param heard ids of the inputs, in the order in which they were heard
 * @param isDeafBefore whether nothing could be heard for a while before the pulse at this place: what was worked then is silent
 */
export function fitWalk(
  stops: readonly string[],
  heard: readonly string[],
  isDeafBefore: (at: number) => boolean,
): { readonly fits: readonly Fit[]; readonly strays: readonly Stray[] } {
  const { costs, steps } = computeCosts(stops, heard, isDeafBefore);
  const last = heard.length;
  let stop = cheapestEnd(costs.map((row) => row[last] ?? Number.POSITIVE_INFINITY));
  let pulse = last;
  const fits: Fit[] = stops.map(() => ({ is: 'nothing' }));
  const strays: Stray[] = [];
  while (stop > 0 || pulse > 0) {
    const step = steps[stop]?.[pulse] ?? 'stray';
    if (step === 'exchanged') {
      fits[--stop] = { is: 'another', at: --pulse };
      fits[--stop] = { is: 'another', at: --pulse };
    } else if (step === 'itself' || step === 'another') fits[--stop] = { is: step, at: --pulse };
    else if (step === 'silent') stop--;
    else strays.unshift({ at: --pulse, asked: stop });
  }
  return { fits, strays };
}

function computeCosts(
  stops: readonly string[],
  heard: readonly string[],
  isDeafBefore: (at: number) => boolean,
) {
  const gaps = heard.map((_, at) => isDeafBefore(at));
  const costs: number[][] = [];
  const steps: Step[][] = [];
  for (let stop = 0; stop <= stops.length; stop++) {
    costs.push([]);
    steps.push([]);
    for (let pulse = 0; pulse <= heard.length; pulse++) {
      const ways: (readonly [Step, number | undefined])[] = [];
      // Of two ways that cost the same the first is taken: what was heard belongs to the stop that came first.
      if (stop > 0) ways.push(['silent', costs[stop - 1]?.[pulse]]);
      if (stop > 0 && pulse > 0) {
        const step = stops[stop - 1] === heard[pulse - 1] ? 'itself' : 'another';
        ways.push([step, costs[stop - 1]?.[pulse - 1]]);
      }
      const isCrossed = stops[stop - 1] === heard[pulse - 2] && stops[stop - 2] === heard[pulse - 1];
      if (stop > 1 && pulse > 1 && isCrossed && stops[stop - 1] !== stops[stop - 2])
        ways.push(['exchanged', costs[stop - 2]?.[pulse - 2]]);
      if (pulse > 0) {
        const step = heard[pulse - 1] === heard[pulse - 2] ? 'again' : 'stray';
        ways.push([step, costs[stop]?.[pulse - 1]]);
      }
      const best = ways
        .map(([step, before = 0]) => {
          const cost = step === 'silent' && gaps[pulse] ? COST.deaf : COST[step];
          return { step, cost: before + cost };
        })
        .reduce<{ step: Step; cost: number } | null>(
          (a, b) => (a !== null && a.cost <= b.cost ? a : b),
          null,
        );
      costs[stop]?.push(best?.cost ?? 0);
      steps[stop]?.push(best?.step ?? 'stray');
    }
  }
  return { costs, steps };
}

function cheapestEnd(costs: readonly number[]): number {
  return costs.reduce((best, cost, at) => (cost < (costs[best] ?? Number.POSITIVE_INFINITY) ? at : best), 0);
}
