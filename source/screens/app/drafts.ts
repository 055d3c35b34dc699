import type { App, Turn } from './state.ts';

/**
 * What is being typed on any screen, kept at each key so that a kill loses nothing. One flat table of fields:
 * several things may be half typed at once.
 */
export type Drafts = Readonly<Record<string, string>>;

function keyOf(screen: string, about: string, field: string): string {
  return `${screen} ${about} ${field}`;
}

/** What was typed for one screen about one thing. */
export function draftOf(drafts: Drafts, screen: string, about: string): Record<string, string> {
  const prefix = keyOf(screen, about, '');
  return Object.fromEntries(
    Object.entries(drafts)
      .filter(([key]) => key.startsWith(prefix))
      .map(([key, text]) => [key.slice(prefix.length), text]),
  );
}

/** The app with this typed, and the order to keep it. */
export function keepDraft(app: App, screen: string, about: string, answers: Drafts): Turn {
  const typed = Object.entries(answers)
    .filter(([, text]) => text !== '')
    .map(([field, text]) => [keyOf(screen, about, field), text]);
  const drafts = { ...without(app.drafts, screen, about), ...Object.fromEntries(typed) };
  return saved({ ...app, drafts }, about);
}

/** The app without it: it was recorded, or given up. */
export function dropDraft(app: App, screen: string, about: string): Turn {
  const drafts = without(app.drafts, screen, about);
  if (Object.keys(drafts).length === Object.keys(app.drafts).length) return [app, []];
  return saved({ ...app, drafts }, about);
}

function without(drafts: Drafts, screen: string, about: string): Drafts {
  const prefix = keyOf(screen, about, '');
  return Object.fromEntries(Object.entries(drafts).filter(([key]) => !key.startsWith(prefix)));
}

function saved(app: App, about: string): Turn {
  const empty = Object.keys(app.drafts).length === 0;
  return [app, [{ do: 'draft', draft: empty ? null : { screen: 'screens', about, answers: app.drafts } }]];
}
