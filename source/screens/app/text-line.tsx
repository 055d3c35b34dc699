import { Box, Text } from 'ink';
import TextInput from 'ink-text-input';
import type { Control, Room } from '../draw/frame.ts';
import { graphemes } from '../draw/line.ts';
import { safeText } from '../keys/key.ts';
import type { Store } from './store.ts';

type Props = {
  readonly control: Extract<Control, { kind: 'line' }>;
  readonly room: Room;
  readonly store: Store;
};

/** A line of free text, served by the library. Enter and the arrows are the root's. */
export function TextLine({ control, room, store }: Props) {
  const colour = room.palette.tones.focus;
  return (
    <Box>
      <Text {...(colour && { color: colour })}>{'  = '}</Text>
      <TextInput
        value={control.value}
        placeholder={control.placeholder}
        onChange={(value) => store.dispatch({ type: 'line', value: typed(value) })}
      />
    </Box>
  );
}

// A Backspace held down arrives as a run of deletes inside the text, a paste with its line ends.
function typed(text: string): string {
  const kept: string[] = [];
  for (const part of graphemes(text)) {
    if (part === '\x7f' || part === '\b') kept.pop();
    else kept.push(/^\s+$/.test(part) ? ' ' : part);
  }
  return safeText(kept.join(''));
}
