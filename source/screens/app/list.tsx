import { Box, Text } from 'ink';
import SelectInput from 'ink-select-input';
import { createContext, useContext, useMemo } from 'react';
import type { Control, Room } from '../draw/frame.ts';
import { asciiText, GLYPHS } from '../draw/glyphs.ts';
import { clipText } from '../draw/line.ts';
import { shownRow } from '../terminal/shown-text.ts';
import type { Store } from './store.ts';

type Props = {
  readonly control: Extract<Control, { kind: 'list' }>;
  readonly rows: number;
  readonly room: Room;
  readonly store: Store;
};

type Marking = { readonly pointer: string; readonly colour: string | undefined };
const MarkingContext = createContext<Marking>({ pointer: GLYPHS.ascii.pointer, colour: undefined });

/** A list to pick from, served by the library; digits pick as long as all its lines are seen. */
export function List({ control, rows, room, store }: Props) {
  const { items } = control;
  const { glyphs, palette, columns } = room;
  const numbered = items.length <= Math.min(9, rows);
  const shown = items.map(({ value, label }, index) => {
    const text = shownRow(numbered ? `${index + 1}  ${label}` : label);
    const said = glyphs.name === 'ascii' ? asciiText(text) : text;
    return { key: value, value, label: clipText(said, columns - 2, glyphs.cut) };
  });
  const marking = useMemo(
    () => ({ pointer: glyphs.pointer, colour: palette.tones.focus }),
    [glyphs, palette],
  );
  return (
    <MarkingContext value={marking}>
      <SelectInput
        items={shown}
        limit={Math.max(1, rows)}
        initialIndex={control.initial}
        indicatorComponent={Mark}
        itemComponent={Item}
        // The root hears the same key after the list: what was picked is told once it is through.
        onSelect={({ value }) => queueMicrotask(() => store.dispatch({ type: 'picked', value }))}
        onHighlight={({ value }) => queueMicrotask(() => store.dispatch({ type: 'highlighted', value }))}
      />
    </MarkingContext>
  );
}

function Mark({ isSelected = false }: { readonly isSelected?: boolean }) {
  const { pointer, colour } = useContext(MarkingContext);
  return (
    <Box width={2}>
      <Text bold {...(colour && { color: colour })}>
        {isSelected ? pointer : ' '}
      </Text>
    </Box>
  );
}

function Item({ isSelected = false, label }: { readonly isSelected?: boolean; readonly label: string }) {
  return (
    <Text bold={isSelected} wrap="truncate">
      {label}
    </Text>
  );
}
