import type { Heard } from '../../source/live/ear.ts';
import { type Listening, type ListenOptions, listen } from '../../source/live/listen.ts';
import type { Mapping } from '../../source/live/mapping.ts';

/** Our own board at the harbour, as it tells its inputs. */
export const HARBOUR: Mapping = {
  topic: 'harbour/b1/in-{input}/state',
  state: '',
  open: ['OPEN'],
  closed: ['CLOSED'],
  names: {},
  presence: { topic: 'harbour/b1/line', here: ['up'], gone: ['down'] },
};

export const BOARD = { id: 'b1', inputs: ['1', '2', '3', '4', '5', '6', '7', '8'] };

/** Listens to a broker, or fails with why not. */
export async function earsOn(
  url: string,
  more: Partial<ListenOptions> & { readonly user?: string; readonly caFile?: string | null } = {},
): Promise<Listening> {
  const { user = null, caFile = null, ...options } = more;
  const listening = await listen({
    source: { kind: 'mqtt', url, username: user, passwordFile: null, caFile },
    mappings: { b1: HARBOUR },
    boards: [BOARD],
    env: {},
    onHeard: () => {},
    ...options,
  });
  if (typeof listening === 'string') throw new Error(listening);
  return listening;
}

/** What changed, in short: `3 open`. */
export const changesOf = ({ changes }: Heard) => changes.map(({ input, state }) => `${input} ${state}`);
