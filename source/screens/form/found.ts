import { withBareUnit } from '../../site/field-units.ts';
import { learnContact } from '../../site/found-contact.ts';
import type { DetectorKind } from '../../site/survey.ts';
import type { App } from '../app/state.ts';
import { aboutStep } from './correctable.ts';
import type { FormDef } from './forms.ts';
import { HOW_KNOWN, text } from './text.ts';

/** What hangs on a loop by two wires and needs no supply. */
const KINDS: readonly DetectorKind[] = [
  'window-contact',
  'door-contact',
  'shutter-contact',
  'vibration',
  'panic',
  'flood',
];

/** A contact that the survey does not know comes into it with all that belongs to it, in one correction. */
export const FOUND: FormDef = {
  title: 'A contact was found that the survey does not know',
  says: () => [
    'It comes into the survey behind a detector that is known, with its cable; the plan is made again and its difference shown before you adopt it. Where each contact has a resistor of its own, it becomes a part of that one.',
  ],
  fields: (app, step) => [
    text(
      'beside',
      'Behind which detector does it hang?',
      aboutStep(app, step)
        .own.map(({ id }) => id)
        .slice(0, 9),
    ),
    text('name', 'What is it called?'),
    text('kind', 'What is it?', KINDS),
    {
      ...text('cable', `Its cable from there, in ${unitOf(app)}; 0 without one of its own`, ['unknown'], 1),
      numeric: true,
    },
    HOW_KNOWN,
  ],
  action: ({ beside = '', name = '', kind = '', cable = '', reason = '' }, _, app) => {
    const length = withBareUnit('metres', cable, app.settings.units);
    const found = {
      beside,
      name,
      kind,
      cable: cable === '0' ? null : { length, conductor: 'unknown' },
    };
    return { do: 'correct', reason, set: app.job ? learnContact(app.job.plan.survey, found).changes : [] };
  },
};

const unitOf = ({ settings }: App) => (settings.units === 'imperial' ? 'feet' : 'metres');
