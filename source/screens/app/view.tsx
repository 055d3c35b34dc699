import { Box, Text, useInput } from 'ink';
import { useCallback, useSyncExternalStore } from 'react';
import { type Composed, compose, LEAST, type Room } from '../draw/frame.ts';
import { GLYPHS } from '../draw/glyphs.ts';
import type { Line } from '../draw/line.ts';
import { PALETTES, type Palette, wireColour } from '../draw/palette.ts';
import { keysOf } from '../keys/key.ts';
import { List } from './list.tsx';
import { defOf } from './screens.ts';
import { type App, top } from './state.ts';
import type { Store } from './store.ts';
import { TextLine } from './text-line.tsx';

/** The one root: it has the keys for the whole run and shows what is on top of the stack. */
export function Screens({ store }: { readonly store: Store }) {
  const app = useSyncExternalStore(store.subscribe, store.get);
  useInput(useCallback((input, key) => store.keys(keysOf(input, key)), [store]));
  const room = roomOf(app);
  if (tooSmall(app)) return <Text wrap="truncate">{sizeNeeded(app)}</Text>;
  const composed = composeTop(app, room);
  const { control } = composed;
  return (
    <Box flexDirection="column">
      <Rows lines={composed.above} palette={room.palette} linear={room.linear} />
      {control?.kind === 'list' && (
        <List key={control.id} control={control} rows={composed.controlRows} room={room} store={store} />
      )}
      {control?.kind === 'line' && <TextLine key={control.id} control={control} room={room} store={store} />}
      <Rows lines={composed.below} palette={room.palette} linear={room.linear} />
    </Box>
  );
}

export function roomOf(app: App): Room {
  return {
    ...app.size,
    glyphs: GLYPHS[app.settings.glyphs],
    palette: PALETTES[app.settings.palette],
    linear: app.linear,
  };
}

export function composeTop(app: App, room: Room): Composed {
  const screen = top(app);
  return compose(defOf(screen).view(app, screen, room), room);
}

export function tooSmall(app: App): boolean {
  return !app.linear && (app.size.columns < LEAST.columns || app.size.rows < LEAST.rows);
}

function sizeNeeded({ size }: App): string {
  return `${LEAST.columns} x ${LEAST.rows} needed, this is ${size.columns} x ${size.rows}. Nothing is lost.`;
}

function Rows({
  lines,
  palette,
  linear,
}: {
  readonly lines: readonly Line[];
  readonly palette: Palette;
  readonly linear: boolean;
}) {
  const shown = linear ? lines.filter((line) => line.length > 0) : lines;
  return shown.map((line, index) => <Row key={index} line={line} palette={palette} />);
}

function Row({ line, palette }: { readonly line: Line; readonly palette: Palette }) {
  if (line.length === 0) return <Text> </Text>;
  return (
    <Text wrap="truncate">
      {line.map(({ text, tone, bold, inverse, wire }, index) => {
        const colour = wire === undefined ? tone && palette.tones[tone] : wireColour(wire, palette);
        if (!colour && !bold && !inverse) return text;
        return (
          <Text
            key={index}
            {...(colour && { color: colour })}
            {...(bold && { bold })}
            {...(inverse && { inverse })}
          >
            {text}
          </Text>
        );
      })}
    </Text>
  );
}
