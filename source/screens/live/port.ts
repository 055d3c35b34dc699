import type { LearnedInput } from '../../live/learn.ts';
import type { InputState, Mapping } from '../../live/mapping.ts';
import type { Setup, SourceSetup } from '../../live/setup.ts';
import type { LiveState } from './state.ts';

/** A board whose inputs are to be heard. */
export type BoardToHear = { readonly id: string; readonly inputs: readonly string[] };

/** What the screens need of the one who listens. Nothing is opened before `listen`. */
export type LivePort = {
  /** How the job in this folder is heard; a sentence where that cannot be read. */
  setup(dir: string): Setup | string;
  setSource(dir: string, source: SourceSetup): void;
  setMapping(dir: string, board: string, mapping: Mapping): void;
  listen(dir: string, boards: readonly BoardToHear[]): void;
  /** While a mapping is learned: how the input is held from now on; null ends it. */
  hold(state: InputState | null): void;
  /** What followed the input that was held. */
  candidates(input: LearnedInput): void;
  stop(): void;
};

/** Hands in what is new. */
export type TellLive = (news: Partial<LiveState>) => void;
