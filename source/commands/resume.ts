import type { Run } from './command.ts';
import { Ending } from './exit.ts';

export const run: Run = () => {
  throw new Ending('refused', 'This command is still being built.');
};
