import type { InputState, Mapping } from './mapping.ts';
import { isTopicName, type Message, textOf } from './message.ts';
import { INPUT_MARK } from './topic.ts';

/** What an input goes by: its id first, then whatever else the board may call it. */
export type LearnedInput = { readonly id: string; readonly names: readonly string[] };

/** One place in the messages that followed a contact: a topic, a path in its payload, and what it said. */
export type Candidate = {
  readonly topic: string;
  readonly path: string;
  readonly open: string;
  readonly closed: string;
};

type Place = { readonly topic: string; readonly path: string; said: { held: InputState; text: string }[] };

const MOST_PLACES = 5000;
const MOST_SAID = 50;
const MOST_LEAVES = 100;
const LONGEST_STATE = 64;

/**
 * Watches messages while one input is held closed, open and closed again, and says which place in them followed it. What
 * the broker kept from earlier does not count, and what changes by itself, as a counter does, is left out.
 */
export class Learner {
  #held: InputState = 'closed';
  #places = new Map<string, Place>();

  /** The input is held like this from now on. */
  hold(state: InputState): void {
    this.#held = state;
  }

  take({ topic, payload, kept }: Message): void {
    if (kept || !isTopicName(topic)) return;
    const text = textOf(payload);
    if (text === null) return;
    for (const [path, said] of leavesOf(text)) {
      if (said.length > LONGEST_STATE) continue;
      const key = `${topic} ${path}`;
      const place = this.#places.get(key) ?? { topic, path, said: [] };
      if (place.said.length >= MOST_SAID || this.#places.size >= MOST_PLACES) continue;
      place.said.push({ held: this.#held, text: said });
      this.#places.set(key, place);
    }
  }

  /** What followed the input, the surest first: what said nothing else, then what names it. */
  candidates(input: LearnedInput): readonly Candidate[] {
    const found = [...this.#places.values()].flatMap(({ topic, path, said }) => {
      const last = (held: InputState) => said.findLast((one) => one.held === held)?.text;
      const [open, closed] = [last('open'), last('closed')];
      const texts = new Set(said.map(({ text }) => text));
      if (open === undefined || closed === undefined || open === closed || texts.size > 2) return [];
      return [{ topic, path, open, closed, changes: said.length }];
    });
    const isNamed = ({ topic, path }: Candidate) => markedIn(`${topic} ${path}`, input).length > 0;
    return found
      .sort((a, b) => Number(isNamed(b)) - Number(isNamed(a)) || a.changes - b.changes)
      .map(({ changes: _, ...candidate }) => candidate);
  }
}

/** Every place of a payload that could tell a state: the whole, or each member of a JSON object. */
function leavesOf(text: string): readonly (readonly [string, string])[] {
  if (!/^[[{]/.test(text)) return [['', text]];
  let json: unknown;
  try {
    json = JSON.parse(text);
  } catch {
    return [['', text]];
  }
  const leaves: [string, string][] = [];
  const walk = (value: unknown, path: string, depth: number) => {
    if (leaves.length >= MOST_LEAVES || depth > 6) return;
    if (typeof value === 'object' && value !== null) {
      for (const [name, inner] of Object.entries(value)) {
        const step = Array.isArray(value) ? `[${name}]` : /^[\w .-]+$/.test(name) ? `['${name}']` : null;
        if (step !== null) walk(inner, `${path}${step}`, depth + 1);
      }
    } else if (value !== null) leaves.push([path, String(value)]);
  };
  walk(json, '$', 0);
  return leaves;
}

/** The text with the mark in place of what the input goes by: every way there is, by which of its names. */
function markedIn(
  text: string,
  { id, names }: LearnedInput,
): { readonly pattern: string; readonly by: number }[] {
  return [id, ...names].flatMap((name, by) => {
    const at = new RegExp(
      `(?<![A-Za-z0-9])${escaped(name)}(?![A-Za-z0-9])|(?<=[A-Za-z])${escaped(name)}(?![0-9])`,
      'gi',
    );
    return [...text.matchAll(at)].map(({ index, 0: found }) => ({
      pattern: `${text.slice(0, index)}${INPUT_MARK}${text.slice(index + found.length)}`,
      by,
    }));
  });
}

const escaped = (text: string) => text.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');

/**
 * The mapping that two inputs confirm: the one pattern that has both in the same place. A sentence of what is wrong and
 * one of what to do where there is none.
 */
export function learnMapping(
  first: { readonly input: LearnedInput; readonly at: Candidate },
  second: { readonly input: LearnedInput; readonly at: Candidate },
  inputs: readonly LearnedInput[],
): Mapping | string {
  const [a, b] = [first.at, second.at];
  const same = (one: string, other: string) => one.toLowerCase() === other.toLowerCase();
  if (!same(a.open, b.open) || !same(a.closed, b.closed))
    return `The first input says ${quote(a.open)} and ${quote(a.closed)}, the second ${quote(b.open)} and ${quote(b.closed)}. Hold each as asked, open and closed, and learn again.`;
  const base = { open: [a.open], closed: [a.closed], presence: null };
  const shared = { ...base, state: plainPath(a.path) };
  if (a.topic !== b.topic && a.path === b.path) {
    const found = samePattern(a.topic, first.input, b.topic, second.input);
    if (found) return { ...shared, topic: found.pattern, names: namesBy(inputs, found.by) };
    return byLevel(a.topic, b.topic, shared, first.input, second.input);
  }
  if (a.topic === b.topic && a.path !== b.path) {
    const found = samePattern(a.path, first.input, b.path, second.input);
    if (found)
      return { ...base, topic: a.topic, state: plainPath(found.pattern), names: namesBy(inputs, found.by) };
  }
  return 'The two inputs do not tell their states in the same place. Learn again, and pick for each what follows it alone.';
}

function samePattern(a: string, first: LearnedInput, b: string, second: LearnedInput) {
  const others = markedIn(b, second);
  return markedIn(a, first).find((one) =>
    others.some(({ pattern, by }) => pattern === one.pattern && by === one.by),
  );
}

// The board has names of its own: two are known now, the others are learned as they are worked.
function byLevel(
  a: string,
  b: string,
  shared: Omit<Mapping, 'topic' | 'names'>,
  first: LearnedInput,
  second: LearnedInput,
): Mapping | string {
  const [inA, inB] = [a.split('/'), b.split('/')];
  const differ = inA.flatMap((level, at) => (level === inB[at] ? [] : [at]));
  const [at] = differ;
  if (inA.length !== inB.length || differ.length !== 1 || at === undefined)
    return 'The topics of the two inputs differ in more than one place. Learn again with inputs of the same board.';
  return {
    ...shared,
    topic: inA.with(at, INPUT_MARK).join('/'),
    names: { [first.id]: inA[at] ?? '', [second.id]: inB[at] ?? '' },
  };
}

/** Names of all inputs where the board goes by another name than the id. */
function namesBy(inputs: readonly LearnedInput[], by: number): Mapping['names'] {
  if (by === 0) return {};
  return Object.fromEntries(
    inputs.flatMap(({ id, names }) => (names[by - 1] === undefined ? [] : [[id, names[by - 1]!]])),
  );
}

/** A member by its name alone needs no query. */
function plainPath(path: string): string {
  const [, name] = /^\$\['([^'{}]+)'\]$/.exec(path) ?? [];
  return name ?? path;
}

const quote = (text: string) => `"${text}"`;
