import type { Action } from '../../job/action.ts';
import type { App } from '../app/state.ts';

/** A job whose folder takes no more records: what was not saved, in lines, and where to go on. */
export type Unsaved = {
  readonly dir: string;
  readonly lost: readonly string[];
  readonly offers: readonly string[];
};

/** Goes on in another folder, wherever one is, while there is something that was not saved. */
export const CARRY_ON_KEY = '+';

/** The row of the key table for it. */
export const CARRY_ON_ROW = {
  keys: [CARRY_ON_KEY],
  does: 'carry-on',
  says: 'go on in another folder',
  foot: true,
  works: ({ app }: { readonly app: App }) => app.unsaved != null,
} as const;

/** What was to be recorded, as it was typed. */
export function lostLines(app: App, action: Action): readonly string[] {
  const step = 'step' in action ? app.job?.steps.find(({ id }) => id === action.step) : undefined;
  const { do: what, ...given } = action;
  const typed = 'values' in given ? given.values : given;
  const lines = Object.entries(typed as Readonly<Record<string, unknown>>)
    .filter(([field]) => field !== 'step')
    .map(([field, value]) => `  ${field}: ${typeof value === 'string' ? value : JSON.stringify(value)}`);
  return [step?.title ?? what, ...lines];
}
