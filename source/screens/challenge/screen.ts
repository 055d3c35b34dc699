import { foot, jobHead } from '../app/chrome.ts';
import type { ScreenDef } from '../app/screen-def.ts';
import { pop, type Screen, type Turn, withTop } from '../app/state.ts';
import { EMPTY, type Line } from '../draw/line.ts';
import { wrapText } from '../draw/wrap.ts';
import type { ChoiceField } from '../entry/field.ts';
import { answersOf, newEntry, reduceEntry } from '../entry/state.ts';
import { viewEntry } from '../entry/view.ts';
import type { Key } from '../keys/key.ts';
import { workingRows } from '../keys/table.ts';

export const CHALLENGE_FIELD: ChoiceField = {
  kind: 'choice',
  id: 'so',
  label: 'Is it so all the same?',
  options: [
    { id: 'mend', label: 'No: back, I will mend it' },
    { id: 'so', label: 'Yes, it is so: record it, and that I was asked' },
  ],
};

type Challenge = Extract<Screen, { kind: 'challenge' }>;

/** A question before something odd is recorded. */
export const CHALLENGE: ScreenDef<Challenge> = {
  keys: [
    { keys: ['1', '2'], does: 'pick', says: 'pick', foot: true },
    { keys: ['enter'], does: 'enter', says: 'take it', foot: true },
    { keys: ['escape', 'left'], does: 'back', says: 'back, nothing is recorded', foot: true },
    { keys: ['ctrl+c'], does: 'quit', says: 'leave the program; nothing is lost', foot: false },
  ],
  take: (app, screen, key): Turn | null => {
    if (isFigure(key)) return [{ ...pop(app), notice: BACK }, []];
    const [entry, outcome] = reduceEntry(screen.entry, key);
    if (outcome === 'unused') return null;
    if (outcome !== 'complete') return [withTop(app, { ...screen, entry }), []];
    if (answersOf(entry).so !== 'so') return [pop(app), []];
    const acknowledge = [...(screen.action.acknowledge ?? []), screen.name];
    return [pop(app), [{ do: 'act', action: { ...screen.action, acknowledge } }]];
  },
  view: (app, screen, room) => {
    const entry = viewEntry(screen.entry, room, 8);
    return {
      head: jobHead(app, room),
      body: [
        [{ text: `${room.glyphs.doubt} A question first`, bold: true, tone: 'caution' }],
        EMPTY,
        ...wrapText(screen.says, room.columns).map((text): Line => [{ text }]),
      ],
      pinned: entry.lines,
      foot: foot(workingRows(CHALLENGE.keys, { app, screen }), room),
      page: 0,
    };
  },
};

const BACK = { tone: 'caution', says: 'Nothing is recorded: mend what was typed.', more: [] } as const;

// Whoever types a figure or erases is mending already: a 2 inside that figure must not count as "it is so".
function isFigure(key: Key): boolean {
  return key.name === 'erase' || (key.name === 'char' && /^[03-9.,-]$/.test(key.char));
}

/** The question before an action is taken that may be a slip, by the challenge's name. */
export function challengeScreen(action: Challenge['action'], name: string, says: string): Challenge {
  return { kind: 'challenge', action, name, says, entry: newEntry([CHALLENGE_FIELD]) };
}
