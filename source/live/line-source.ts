import { LONGEST_PAYLOAD_BYTES, type Source, type SourceEvent } from './message.ts';

/** Hears lines, each a topic and a payload with a blank between: `in-3 OPEN`. */
export function openLines(lines: AsyncIterable<string>, on: (event: SourceEvent) => void): Promise<Source> {
  let isOver = false;
  const run = async () => {
    on({ is: 'hearing', atMilliseconds: Date.now() });
    for await (const line of lines) {
      if (isOver) return;
      if (line.length > LONGEST_PAYLOAD_BYTES) continue;
      const [, topic = '', text = ''] = /^\s*(\S+)\s*(.*)$/s.exec(line) ?? [];
      if (topic === '') continue;
      const message = { topic, payload: Buffer.from(text), atMilliseconds: Date.now(), kept: false };
      on({ is: 'message', message });
    }
    const says = 'The lines have ended. Start what writes them again, and listen anew.';
    if (!isOver) on({ is: 'deaf', atMilliseconds: Date.now(), says, isOver: true });
  };
  // Begun once whoever opened it has it in hand.
  setImmediate(() => void run());
  return Promise.resolve({
    listenTo: () => {},
    close: () => {
      isOver = true;
    },
  });
}
