import { Box, Text, useInput } from 'ink';
import { memo, useCallback, useSyncExternalStore } from 'react';
import { LEAST } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';
import { type Palette, wireColour } from '../draw/palette.ts';
import { keysOf } from '../keys/key.ts';
import { composeTop, roomOf, tooSmall } from './composed.ts';
import { List } from './list.tsx';
import type { App } from './state.ts';
import type { Store } from './store.ts';
import { TextLine } from './text-line.tsx';

export { composeTop, tooSmall } from './composed.ts';

/** The one root: it has the keys for the whole run and shows what is on top of the stack. */
export function Screens({ store }: { readonly store: Store }) {
  const app = useSyncExternalStore(store.subscribe, store.get);
  useInput(useCallback((input, key) => store.keys(keysOf(input, key)), [store]));
  const room = roomOf(app);
  if (tooSmall(app)) return <Text wrap="truncate">{sizeNeeded(app)}</Text>;
  const shown = composeTop(app);
  const { control } = shown;
  return (
    <Box flexDirection="column">
      <Rows lines={shown.above} palette={room.palette} linear={room.linear} />
      {control?.kind === 'list' && (
        <List key={control.id} control={control} rows={shown.controlRows} room={room} store={store} />
      )}
      {control?.kind === 'line' && <TextLine key={control.id} control={control} room={room} store={store} />}
      <Rows lines={shown.below} palette={room.palette} linear={room.linear} />
    </Box>
  );
}

function sizeNeeded({ size }: App): string {
  return `Nothing is lost: ${LEAST.columns} x ${LEAST.rows} is needed, this is ${size.columns} x ${size.rows}.`;
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

type RowProps = { readonly line: Line; readonly palette: Palette };

// Most rows stay as they are from key to key: those are neither drawn nor measured again.
const Row = memo(function Row({ line, palette }: RowProps) {
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
}, isSameRow);

function isSameRow(before: RowProps, after: RowProps): boolean {
  if (before.palette !== after.palette || before.line.length !== after.line.length) return false;
  if (before.line === after.line) return true;
  return before.line.every((span, index) => {
    const other = after.line[index]!;
    return (
      span.text === other.text &&
      span.tone === other.tone &&
      span.bold === other.bold &&
      span.inverse === other.inverse &&
      span.wire === other.wire
    );
  });
}
