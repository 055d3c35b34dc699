import { homedir } from 'node:os';
import type { FormDef } from './forms.ts';
import { text } from './text.ts';

/** A survey from anywhere on the disk, by its path. */
export const SURVEY_FILE: FormDef = {
  title: 'A survey that is written already',
  says: () => [
    'It is opened to be looked through and changed; from there a job is opened on it. Its file stays as it is until you save.',
  ],
  fields: () => [text('file', 'Where is it? (the path of its file, such as ~/harbour.yaml)', [], 1)],
  action: () => ({ do: 'doubt' }),
  effect: (_, { file = '' }) => ({ do: 'edit-survey', file: file.replace(/^~(?=[/\\])/, homedir()) }),
};
