import { connectAsync, type MqttClient } from 'mqtt';
import { describe, expect, test } from 'vitest';
import { type TourState, type TourStop, tourOf } from '../../source/job/hearing/tour.ts';
import type { Heard } from '../../source/live/ear.ts';
import type { Listening } from '../../source/live/listen.ts';
import { type Random, seededRandom } from '../../source/rehearsal/building/random.ts';
import { report, scale } from '../scale.ts';
import { MOSQUITTO, startBroker, until } from './broker.ts';
import { Wire } from './cut.ts';
import { earsOn, HARBOUR } from './ears.ts';
import { type WalkedSite, walkedSite } from './walked-site.ts';

const WALKS = scale(500, 0.02);
const WALKS_A_SITE = 50;

/** What goes wrong on a walk, drawn by its seed. */
type Drawn = {
  readonly swap: readonly [number, number] | null;
  readonly chatters: number | null;
  readonly silent: number | null;
  readonly hangs: number | null;
  readonly passedOver: number | null;
  /** The stops from and up to which the wire is cut. */
  readonly cut: readonly [number, number] | null;
  /** Messages that are sent again, from some point of the series on: MQTT 5.0, 4.6. */
  readonly again: boolean;
};

function draw(random: Random, stops: readonly TourStop[]): Drawn {
  const count = stops.length;
  const alone = stops.flatMap(({ id }, at) =>
    stops.filter((one) => one.id === id).length === 1 ? [at] : [],
  );
  const [a, c, d, e, f, ...others] = random.shuffled(alone);
  // Between two boards nothing would flow: what is exchanged there is silent.
  const boardAt = (at: number) => stops[at]?.id.split('/')[0];
  const b = a === undefined ? undefined : others.find((at) => boardAt(at) === boardAt(a));
  const either = (share: number, at: number | undefined) =>
    random.between(0, 1) < share ? (at ?? null) : null;
  const from = Math.floor(random.between(1, count - 5));
  const isSwapped = random.between(0, 1) < 0.5 && a !== undefined && b !== undefined;
  return {
    swap: isSwapped ? [a, b] : null,
    chatters: either(0.4, c),
    silent: either(0.3, d),
    hangs: either(0.2, e),
    passedOver: either(0.2, f),
    cut: random.between(0, 1) < 0.3 ? [from, from + 2] : null,
    again: random.between(0, 1) < 0.5,
  };
}

/** Without a swap that changes nothing: where a resistor or a joint stands at the input, its wires are not at the screw. */
function effective(site: WalkedSite, drawn: Drawn): Drawn {
  const [a, b] = drawn.swap?.map((at) => site.stops[at]!) ?? [];
  if (!a || !b) return drawn;
  const wired = site.exchanged(a.id, b.id);
  const rest = wired.shows([]);
  const heardAt = (detector: string) =>
    [...wired.shows([detector])].flatMap(([id, state]) => (rest.get(id) === state ? [] : [id])).join();
  return heardAt(a.detector) === b.id && heardAt(b.detector) === a.id ? drawn : { ...drawn, swap: null };
}

const MIXED = {
  falselyTicked: 0,
  missed: 0,
  swaps: 0,
  swapsNamed: 0,
  swapsAsked: 0,
  chatter: 0,
  chatterNamed: 0,
  silent: 0,
  hangs: 0,
  cuts: 0,
  again: 0,
  ticks: 0,
};

describe.skipIf(MOSQUITTO === null)('walks over a real broker (mosquitto)', { timeout: 7_200_000 }, () => {
  test(`${WALKS} walks through buildings of about thirty detectors (seeds from 1): none ticked that was not worked, none missed while connected, every swap named or asked about`, async () => {
    const broker = await startBroker();
    const board = await connectAsync(broker.url);
    const counts = { ...MIXED };
    let site: WalkedSite | null = null;
    let ears: Listening | null = null;
    let wire: Wire | null = null;
    let clock = 0;
    for (let seed = 1, walk = 0; walk < WALKS; walk++) {
      if (walk % WALKS_A_SITE === 0) {
        ears?.close();
        wire?.close();
        do site = walkedSite(seed++);
        while (site === null || site.stops.length < 20);
        wire = await Wire.to(broker.port);
        ears = await listenTo(site, wire.url, () => clock);
        const open = ears;
        await until('it hears', () => open.look().hears);
      }
      const random = seededRandom(walk, 'walk');
      const drawn = effective(site!, draw(random, site!.stops));
      const walker = new Walker(site!, drawn, ears!, wire!, board, random, (at) => {
        clock = at;
      });
      const { heard, from, worked } = await walker.walk();
      const states = tourOf(site!.stops, { ...heard, nowMilliseconds: clock }, from);
      judge(counts, site!.stops, drawn, states, worked, `walk ${walk}, ${JSON.stringify(drawn)}`);
    }
    ears?.close();
    wire?.close();
    await board.endAsync(true);
    await broker.remove();
    report(`${WALKS} walks`, [counts]);
    expect(counts).toMatchObject({
      falselyTicked: 0,
      missed: 0,
      chatterNamed: counts.chatter,
    });
    expect(counts.swapsNamed + counts.swapsAsked).toBe(counts.swaps);
    expect(counts.swapsNamed).toBeGreaterThan(counts.swaps * 0.7);
    expect(counts.ticks).toBeGreaterThan(WALKS * 10);
  });
});

function listenTo(site: WalkedSite, url: string, now: () => number): Promise<Listening> {
  const mappings = Object.fromEntries(
    site.boards.map(({ id }) => [
      id,
      { ...HARBOUR, topic: `harbour/${id}/in-{input}/state`, presence: null },
    ]),
  );
  const boards = site.boards.map(({ id, inputs }) => ({ id, inputs: inputs.map((input) => input.id) }));
  return earsOn(url, { mappings, boards, now });
}

/** Walks in the order of the stops, works each detector and restores it, while the boards publish what changes. */
class Walker {
  readonly #now: (at: number) => void;
  readonly #before: ReadonlyMap<string, string>;
  readonly #wired: WalkedSite;
  #at = 0;
  #isCut = false;
  #expected: number;

  constructor(
    readonly site: WalkedSite,
    readonly drawn: Drawn,
    readonly ears: Listening,
    readonly wire: Wire,
    readonly board: MqttClient,
    readonly random: Random,
    now: (at: number) => void,
  ) {
    this.#now = now;
    const [a, b] = drawn.swap ?? [];
    this.#wired =
      a === undefined || b === undefined ? site : site.exchanged(site.stops[a]!.id, site.stops[b]!.id);
    this.#before = this.#wired.shows([]);
    this.#expected = ears.look().messages;
    this.#at = Math.max(...[...ears.look().changes.map(({ atMilliseconds }) => atMilliseconds), 0]) + 60_000;
  }

  async walk(): Promise<{ heard: Heard; from: number; worked: ReadonlySet<number> }> {
    const { stops } = this.site;
    // The boards tell how all stands, as they do when they come up; yesterday's states are still with the broker.
    for (const [id, state] of this.#before) await this.#publish(id, state);
    const from = this.ears.look().seq;
    const worked = new Set<number>();
    for (const [at, stop] of stops.entries()) {
      this.#pass(this.random.between(10, 40));
      if (this.drawn.cut?.[0] === at) await this.#cut();
      if (this.drawn.cut?.[1] === at) await this.#mend();
      // A board of a neighbour's on the same broker tells what it likes.
      await this.board.publishAsync(
        'quay/b9/in-1/state',
        this.random.between(0, 1) < 0.5 ? 'OPEN' : 'CLOSED',
      );
      if (this.drawn.passedOver === at || this.drawn.silent === at) continue;
      if (!this.#isCut) worked.add(at);
      await this.#work(at, stop);
    }
    if (this.#isCut) await this.#mend();
    return { heard: this.ears.look(), from, worked };
  }

  async #work(at: number, stop: TourStop): Promise<void> {
    const shown = this.#wired.shows([stop.detector]);
    const moved = [...shown].filter(([id, state]) => this.#before.get(id) !== state);
    const times = this.drawn.chatters === at ? 5 : 1;
    for (let time = 0; time < times; time++) {
      for (const [id, state] of moved) await this.#publish(id, state);
      this.#pass(times > 1 ? 0.15 : this.random.between(2, 6));
      if (this.drawn.hangs === at) return;
      for (const [id] of moved) await this.#publish(id, this.#before.get(id) ?? 'closed');
      this.#pass(0.15);
    }
    if (!this.drawn.again || this.drawn.chatters === at) return;
    // Sent again from some point on: the whole pulse, or its end.
    const tail = this.random.between(0, 1) < 0.5;
    for (const [id, state] of tail ? [] : moved) await this.#publish(id, state);
    for (const [id] of moved) await this.#publish(id, this.#before.get(id) ?? 'closed');
  }

  async #publish(id: string, state: string): Promise<void> {
    const [board, input] = id.split('/');
    const topic = `harbour/${board}/in-${input}/state`;
    this.#now(this.#at);
    await this.board.publishAsync(topic, state.toUpperCase(), { qos: 1 });
    if (this.#isCut) return;
    await this.#heardMore(1);
  }

  #pass(seconds: number): void {
    this.#at += seconds * 1000;
    this.#now(this.#at);
  }

  async #cut(): Promise<void> {
    this.#isCut = true;
    this.wire.cut();
    await until('it is deaf', () => !this.ears.look().hears);
    // What somebody left with the broker yesterday comes when it hears again, and is no news.
    for (const id of this.#kept) await this.#keep(id, 'OPEN');
  }

  async #mend(): Promise<void> {
    this.wire.mend();
    await until('it hears again', () => this.ears.look().hears);
    await this.#heardMore(this.#kept.length);
    for (const id of this.#kept) await this.#keep(id, '');
    await this.#heardMore(this.#kept.length);
    this.#isCut = false;
  }

  get #kept(): readonly string[] {
    return [...new Set(this.site.stops.slice(-4).map(({ id }) => id))];
  }

  /** The clock stands still until so many messages more were heard. */
  async #heardMore(count: number): Promise<void> {
    this.#expected += count;
    await until('messages were heard', () => this.ears.look().messages >= this.#expected);
  }

  async #keep(id: string, text: string): Promise<void> {
    const [board, input] = id.split('/');
    await this.board.publishAsync(`harbour/${board}/in-${input}/state`, text, { qos: 1, retain: true });
  }
}

function judge(
  counts: typeof MIXED,
  stops: readonly TourStop[],
  drawn: Drawn,
  states: readonly TourState[],
  worked: ReadonlySet<number>,
  says: string,
): void {
  const isSwapped = (at: number) => drawn.swap?.includes(at) === true;
  for (const [at, state] of states.entries()) {
    if (state.is === 'heard') counts.ticks++;
    // A tick says that this detector was worked, heard, and came in as its own input.
    const isTrue = worked.has(at) && !isSwapped(at) && drawn.hangs !== at;
    if (state.is === 'heard' && !isTrue) {
      counts.falselyTicked++;
      console.log('ticked', stops[at]!.detector, at, states.map(({ is }) => is).join(' '), says);
    }
    // Of two detectors on one input, one worked while it was deaf, nobody can say which was heard: the input was.
    const isShown = states.some(
      (one, other) => stops[other]?.id === stops[at]?.id && one.is === 'out-of-turn',
    );
    if (isTrue && drawn.chatters !== at && !isShown && (state.is === 'waiting' || state.is === 'elsewhere')) {
      counts.missed++;
      console.log('missed', stops[at]!.detector, at, states.map(({ is }) => is).join(' '), says);
    }
  }
  if (drawn.cut) counts.cuts++;
  if (drawn.again) counts.again++;
  if (drawn.silent !== null) counts.silent++;
  if (drawn.hangs !== null) counts.hangs++;
  if (drawn.chatters !== null && worked.has(drawn.chatters)) {
    counts.chatter++;
    if (states[drawn.chatters]?.is === 'chatters') counts.chatterNamed++;
    else console.log('chatter', states.map(({ is }) => is).join(' '), says);
  }
  const [a, b] = drawn.swap ?? [];
  if (a === undefined || b === undefined || !worked.has(a) || !worked.has(b)) return;
  counts.swaps++;
  const named = ([at, other]: readonly [number, number]) => {
    const state = states[at]!;
    return state.is === 'exchanged' && state.with === other;
  };
  if (named([a, b]) && named([b, a])) counts.swapsNamed++;
  // Beside a stop that was silent for another reason the two cannot be told from it: both are asked about, neither ticked.
  else if (states[a]?.is !== 'heard' && states[b]?.is !== 'heard') counts.swapsAsked++;
  else console.log('swap', a, b, states.map(({ is }) => is).join(' '), says);
}
