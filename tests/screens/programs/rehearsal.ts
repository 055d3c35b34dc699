import { realSystem } from '../../../source/journal/system.ts';
import { openScreens } from '../../../source/screens/open.ts';

/** The screens as they ship, over a chance that draws one building again and again: `rehearsal` SEED FOLDER. */
const [seed = '1', folder = ''] = process.argv.slice(2);
const system = realSystem();
const drawn = Number(seed) - 1;
// The seed of a rehearsal is 256 times the first byte and the second, and one.
const random = (bytes: number) =>
  bytes === 2 ? Uint8Array.of(drawn >> 8, drawn & 255) : system.random(bytes);
void openScreens({ kind: 'jobs' }, { jobsFolder: folder, system: { ...system, random } }).then((code) => {
  process.exitCode = code;
});
