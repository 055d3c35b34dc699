import { remember } from '../../plan/remember.ts';
import type { Survey } from '../../site/survey.ts';
import { BOARDS, FEEDS } from '../survey/options.ts';
import type { Question } from '../survey/question.ts';
import {
  answerOf,
  CABLE_FIELDS,
  DETECTOR_FIELDS,
  type FieldDef,
  KEYPAD_FIELDS,
  type Options,
  OUTSIDE_FIELDS,
  questionFor,
  SITE_FIELDS,
  SOUNDER_FIELDS,
  zoneFields,
} from './fields.ts';
import type { Removing } from './remove.ts';
import { namesIn, type Site, writtenAt } from './site.ts';

/** A part of the survey that is gone through together: a zone with its detectors, the sounders, the boards. */
export type Place = { readonly id: string; readonly title: string; readonly says: string };

export type Adding = 'detector' | 'zone' | 'sounder';

/** A row of a place: a heading, a field that can be changed, or what can be added there. */
export type Row =
  | { readonly kind: 'head'; readonly text: string }
  | {
      readonly kind: 'field';
      /** Where its group stands: `cables.c1`, or nothing for those at the top. */
      readonly base: string;
      readonly def: FieldDef;
      readonly held: string | null;
      readonly assumed: string | null;
      readonly question: Question;
    }
  | { readonly kind: 'add'; readonly adding: Adding; readonly label: string }
  | { readonly kind: 'remove'; readonly removing: Removing; readonly label: string };

/** The parts of a survey, in the order in which they are gone through; the last lines add to it and save it. */
export const placesOf = remember(({ survey, written }: Site): readonly Place[] => {
  const sounders = survey.sounders.map(({ name }) => name).join(', ');
  const boards = survey.boards.map(({ file }) => file).join(', ');
  const spare = otherCables(survey);
  return [
    { id: 'site', title: 'The place', says: survey.site.name },
    {
      id: 'outside',
      title: 'Feed and panel',
      says: labelOf(FEEDS, survey.outside.feed),
    },
    ...survey.zones.map(({ id, name, detectors }) => ({
      id: `zone ${id}`,
      title: `Zone ${id}, ${name}`,
      says: `${detectors.length} ${detectors.length === 1 ? 'detector' : 'detectors'}`,
    })),
    { id: 'add zone', title: 'Another zone', says: 'not in the survey yet' },
    { id: 'sounders', title: 'Sounders, keypads', says: sounders || 'none' },
    ...(spare.length > 0 ? [{ id: 'cables', title: 'Other cables', says: spare.join(', ') }] : []),
    {
      id: 'boards',
      title: 'New boards',
      says: boards || (namesIn(written, 'boards').length === 0 ? 'none' : ''),
    },
    { id: 'finish', title: 'Save', says: 'and open a job on it, or not' },
  ];
});

function labelOf(options: Options, id: string): string {
  return options.find(([one]) => one === id)?.[1] ?? id;
}

// Those that no detector, sounder or keypad names: a telephone line, a run that is joined on the way.
function otherCables(survey: Survey): readonly string[] {
  const named = new Set(
    [...survey.detectors, ...survey.sounders, ...survey.keypads].map(({ cable }) => cable),
  );
  return survey.cables.map(({ id }) => id).filter((id) => !named.has(id));
}

/** The rows of one place. */
export function rowsOf(site: Site, place: string): readonly Row[] {
  const { survey } = site;
  const make = (base: string, about: string, fields: readonly FieldDef[]) =>
    fields.map((def) => fieldRow(site, base, about, def));
  const cable = (id: string, about: string) =>
    make(`cables.${id}`, about, [...CABLE_FIELDS, ...coreFields(site, id)]);
  if (place === 'site') return make('', 'The place', SITE_FIELDS);
  if (place === 'outside') return make('', 'Feed and panel', OUTSIDE_FIELDS);
  if (place === 'sounders') {
    return [
      ...survey.sounders.flatMap(({ id, name, cable: by }): Row[] => [
        { kind: 'head', text: name },
        ...make(`sounders.${id}`, name, SOUNDER_FIELDS),
        ...cable(by, name),
      ]),
      ...survey.keypads.flatMap(({ id, cable: by }): Row[] => [
        { kind: 'head', text: `Keypad ${id}` },
        ...make(`keypads.${id}`, `Keypad ${id}`, KEYPAD_FIELDS),
        ...cable(by, `Keypad ${id}`),
      ]),
      { kind: 'add', adding: 'sounder', label: 'Another sounder' },
    ];
  }
  if (place === 'cables') {
    return otherCables(survey).flatMap((id): Row[] => [
      { kind: 'head', text: `Cable ${id}` },
      ...cable(id, `Cable ${id}`),
      remove('cable', id, `cable ${id}`),
    ]);
  }
  if (place === 'boards') return make('', 'New boards', boardFields(site));
  const zone = survey.zones.find(({ id }) => place === `zone ${id}`);
  if (!zone) return [];
  const of = survey.detectors.filter(({ id }) => zone.detectors.includes(id));
  const names = of.map(({ id, name }) => [id, name] as const);
  return [
    ...make(`zones.${zone.id}`, `Zone ${zone.id}, ${zone.name}`, zoneFields(names, zone.loop.style)),
    ...of.flatMap((detector): Row[] => [
      { kind: 'head', text: detector.name },
      ...make(`detectors.${detector.id}`, detector.name, DETECTOR_FIELDS),
      ...cable(detector.cable, detector.name),
      remove('detector', detector.id, detector.name),
    ]),
    { kind: 'add', adding: 'detector', label: 'Another detector in this zone' },
    remove('zone', zone.id, `zone ${zone.id} and all that is in it`),
  ];
}

function remove(what: Removing['what'], id: string, name: string): Row {
  return { kind: 'remove', removing: { what, id }, label: `Take ${name} out of the survey` };
}

function fieldRow(site: Site, base: string, about: string, def: FieldDef): Row {
  const path = base === '' ? def.field : `${base}.${def.field}`;
  const held = answerOf(writtenAt(site.written, path));
  const [list, id = list] = base === '' ? def.field.split('.') : base.split('.');
  const field = base === '' ? def.field.split('.').slice(1).join('.') : def.field;
  const of = base === '' ? list : id;
  const assumed = site.survey.assumed.find(
    (one) => one.about === of && (one.field === field || one.field === `${field}.standby`),
  );
  return {
    kind: 'field',
    base,
    def,
    held,
    assumed: assumed?.value ?? null,
    question: questionFor(def, path, about, held),
  };
}

function coreFields(site: Site, cable: string): readonly FieldDef[] {
  return namesIn(site.written, `cables.${cable}.cores`).map((place) => ({
    field: `cores.${place}.colour`,
    label: `core ${place}`,
    asks: `The colour of core ${place} (${answerOf(writtenAt(site.written, `cables.${cable}.cores.${place}.use`)) ?? ''})`,
    by: 'words',
  }));
}

function boardFields({ written }: Site): readonly FieldDef[] {
  return namesIn(written, 'boards').map((name) => {
    const held = writtenAt(written, `boards.${name}`);
    const file = answerOf(typeof held === 'string' ? held : writtenAt(written, `boards.${name}.file`)) ?? '';
    const options = BOARDS.some(([id]) => id === file) ? BOARDS : [...BOARDS, [file, file] as const];
    return {
      field: typeof held === 'string' ? `boards.${name}` : `boards.${name}.file`,
      label: `board ${name}`,
      asks: 'Which board is it?',
      by: { options },
    };
  });
}
