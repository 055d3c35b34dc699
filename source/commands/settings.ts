import { readSettings, SETTING_KEYS, SETTINGS, type SettingKey, writeSetting } from '../settings.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { unknownName } from './nearest.ts';

export const run: Run = async (given, context) => {
  const [name = '', value = ''] = given.arguments;
  if (name !== '') await change(keyOf(name), value, given, context);
  else if (given.has('default')) throw new Ending('usage', '--default needs the name of a setting.');
  const { settings, from, standards, file, trouble } = readSettings(context.env);
  if (trouble) context.err(trouble);
  const shown = name === '' ? SETTING_KEYS : [keyOf(name)];
  if (given.json) {
    const rows = shown.map((key) => ({
      name: SETTINGS[key].name,
      value: settings[key],
      from: from[key],
      default: standards[key],
    }));
    context.out(JSON.stringify({ format: 'loopward/settings@1', file, settings: rows }));
    return EXIT.done;
  }
  for (const key of shown) {
    const { name: called, says, accepts } = SETTINGS[key];
    const origin = from[key] === 'default' ? 'default' : `${from[key]}; default ${shownAs(standards[key])}`;
    context.out(`${called.padEnd(22)}${shownAs(settings[key])}  [${origin}]`);
    context.out(`${''.padEnd(22)}${says}: ${accepts}`);
  }
  context.out(`Kept in ${file}`);
  return EXIT.done;
};

function shownAs(value: string | number): string {
  return String(value) || '(none)';
}

function keyOf(name: string): SettingKey {
  const key = SETTING_KEYS.find((one) => SETTINGS[one].name === name);
  if (key) return key;
  throw unknownName(
    'setting',
    name,
    SETTING_KEYS.map((one) => SETTINGS[one].name),
  );
}

async function change(key: SettingKey, value: string, given: Given, context: Context): Promise<void> {
  if (value === '' && !given.has('default')) return;
  const typed = given.has('default') ? null : value;
  if (typed !== null && SETTINGS[key].read(typed) === null) {
    throw new Ending(
      'usage',
      `${SETTINGS[key].name} cannot be ${JSON.stringify(typed)}. Give ${SETTINGS[key].accepts}.`,
    );
  }
  const done = await writeSetting(key, typed, context.env);
  if (done) context.err(done);
}
