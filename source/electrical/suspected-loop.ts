import type { ContactStates, Expression } from './loop.ts';

/** Another thing that could stand between the meter leads. */
export type SuspectedLoop = {
  /** One of the causes; kept as handed in. */
  readonly cause: string;
  readonly says: string;
  readonly try: string;
  readonly expression: Expression;
  /** States it insists on, over those of the reading. */
  readonly states?: ContactStates;
  /** How often it is met beside the others; 1 where not given. */
  readonly weight?: number;
};

/** One reading of a loop, and how its contacts stood. */
export type LoopReading = { readonly ohms: number; readonly states: ContactStates };
