import type { Key } from '../keys/key.ts';
import type { Field } from './field.ts';
import type { Entry } from './state.ts';

/** What a field takes, in one line: said to whoever typed something else, for nothing is dropped without a word. */
function awaitedBy(field: Field): string {
  switch (field.kind) {
    case 'choice':
      return field.options.length === 1
        ? 'Nothing was taken. Press 1, then Enter.'
        : `Nothing was taken. Press a number from 1 to ${field.options.length}, then Enter.`;
    case 'count':
      return 'Nothing was taken. Type digits only.';
    case 'reading':
      return field.quantity === 'ohms'
        ? 'Nothing was taken. Type the figure; right arrow or / gives OL, k and M.'
        : 'Nothing was taken. Type the figure: digits, point and minus.';
    case 'text':
      return 'Nothing was taken. Press a number that is shown, or type.';
  }
}

/** The entry with a word about the key that it has no use for; null for a key that types nothing. */
export function sayAwaited(entry: Entry, key: Key): Entry | null {
  const field = entry.fields[entry.at];
  return field && key.name === 'char' ? { ...entry, says: awaitedBy(field) } : null;
}
