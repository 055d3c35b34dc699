import type { Heard } from '../../live/ear.ts';

/** One thing that happened, for a line of its own. */
export type News =
  | {
      readonly event: 'input';
      readonly board: string;
      readonly input: string;
      readonly state: 'open' | 'closed';
      readonly more: number;
      readonly at: string;
    }
  | { readonly event: 'deaf'; readonly says: string; readonly at: string }
  | { readonly event: 'hearing'; readonly deafSeconds: number; readonly at: string }
  | { readonly event: 'board'; readonly board: string; readonly here: boolean; readonly at: string };

/** Tells what is new since it was last asked, in the order in which it happened. */
export class Teller {
  #seq = 0;
  #deaf = 0;
  #ended = 0;
  #presence = 0;
  #says: string | null = null;
  #hears = false;

  news(heard: Heard, nowMilliseconds: number): readonly News[] {
    const found: (News & { readonly sort: number })[] = [];
    const at = (milliseconds: number) => ({ at: new Date(milliseconds).toISOString(), sort: milliseconds });
    for (const change of heard.changes.filter(({ seq }) => seq >= this.#seq)) {
      const { board, input, state, more, atMilliseconds } = change;
      found.push({ event: 'input', board, input, state, more, ...at(atMilliseconds) });
    }
    this.#seq = heard.seq;
    for (const [index, gap] of heard.deaf.entries()) {
      const isNew = index >= this.#deaf || (index === this.#deaf - 1 && gap.says !== this.#says);
      if (isNew) {
        found.push({ event: 'deaf', says: gap.says, ...at(gap.fromMilliseconds) });
        this.#says = gap.says;
      }
      if (gap.toMilliseconds !== null && index >= this.#ended) {
        const deafSeconds = Math.ceil((gap.toMilliseconds - gap.fromMilliseconds) / 1000);
        found.push({ event: 'hearing', deafSeconds, ...at(gap.toMilliseconds) });
        this.#ended = index + 1;
      }
    }
    this.#deaf = heard.deaf.length;
    for (const { board, here, atMilliseconds } of heard.presence.slice(this.#presence))
      found.push({ event: 'board', board, here, ...at(atMilliseconds) });
    this.#presence = heard.presence.length;
    const isFirst = heard.hears && !this.#hears && heard.deaf.length === 0;
    if (isFirst)
      found.push({
        event: 'hearing',
        deafSeconds: 0,
        ...at(Math.min(nowMilliseconds, ...found.map(({ sort }) => sort))),
      });
    this.#hears ||= heard.hears;
    return found.sort((a, b) => a.sort - b.sort).map(({ sort: _, ...news }) => news);
  }
}
