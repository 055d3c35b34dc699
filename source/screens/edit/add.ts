import type { Change, ChangeValue } from '../../site/correct-survey.ts';
import type { Written } from '../../site/document.ts';
import { SurveyBuilder } from '../survey/builder.ts';
import { put, sounder } from '../survey/interview.ts';
import type { Answers, Question } from '../survey/question.ts';
import { detector, zone } from '../survey/zone.ts';
import type { Adding } from './places.ts';
import { type Site, writtenAt } from './site.ts';

/** Something being added: the question that is open, or once all are answered what it changes in the file. */
export type Added =
  | { readonly open: Question }
  | { readonly open: null; readonly changes: readonly Change[]; readonly place: string | null };

/** Puts the answers so far to the questions of what is added, which are those of a first survey. */
export function adding(site: Site, what: Adding, zoneId: string | null, answers: Answers): Added {
  const { survey } = site;
  const builder = new SurveyBuilder(
    [...survey.detectors, ...survey.cables, ...survey.sounders, ...survey.keypads].map(({ id }) => id),
  );
  builder.outside = { sounderBattery: survey.outside.sounderBattery };
  builder.last.terminals = survey.zones.at(-1)?.terminals.join(' ') ?? '';
  if (what === 'sounder') {
    const { open } = put(answers, sounder(builder));
    return open ? { open } : { open, changes: entriesOf(builder), place: 'sounders' };
  }
  if (what === 'zone') {
    const number = freeNumber(survey.zones.map(({ id }) => id));
    const { open } = put(answers, zone(builder, number));
    const changes = entriesOf(builder);
    return open ? { open } : { open, changes, place: changes.length === 0 ? null : `zone z${number}` };
  }
  return anotherDetector(site, builder, zoneId, answers);
}

function anotherDetector(site: Site, builder: SurveyBuilder, zoneId: string | null, answers: Answers): Added {
  const found = site.survey.zones.find(({ id }) => id === zoneId);
  if (!found) return { open: null, changes: [], place: null };
  const before = site.survey.detectors.find(({ id }) => id === found.detectors.at(-1));
  const contact = found.loop.style === 'across' ? 'normally-open' : 'normally-closed';
  const about = `Zone ${found.id}, ${found.name}`;
  const number = found.detectors.length + 1;
  const made: { id: string; goesOn: boolean }[] = [];
  function* asking(): Generator<Question, void, string> {
    const one = yield* detector(builder, 'new', about, number, before?.cable ?? null, contact);
    if (one) made.push(one);
  }
  const { open } = put(answers, asking());
  if (open) return { open };
  const place = `zone ${found.id}`;
  const [one] = made;
  if (!one) return { open, changes: [], place };
  const joined = joinedWith(found.detectors, writtenAt(site.written, `zones.${found.id}.joined`), one);
  return {
    open,
    place,
    changes: [
      ...entriesOf(builder),
      { path: `zones.${found.id}.detectors.${one.id}`, value: one.id },
      ...(joined === null ? [] : [{ path: `zones.${found.id}.joined`, value: joined }]),
    ],
  };
}

/** How a zone is joined once one more is in it; null where that stays as it is, or nobody knows. */
function joinedWith(
  before: readonly string[],
  joined: Written | null,
  { id, goesOn }: { readonly id: string; readonly goesOn: boolean },
): ChangeValue | null {
  const last = before.at(-1);
  if (last === undefined || joined === 'unknown') return null;
  const sets: string[][] = Array.isArray(joined)
    ? (joined as string[][]).map((set) => [...set])
    : joined === 'field'
      ? [[...before]]
      : [];
  const own = sets.find((set) => set.includes(last));
  if (goesOn && own) own.push(id);
  else if (goesOn) sets.push([last, id]);
  const now = sets.length === 0 ? 'panel' : sets[0]!.length === before.length + 1 ? 'field' : sets;
  return JSON.stringify(now) === JSON.stringify(joined) ? null : now;
}

/** What was put together, as entries of the file's lists. */
function entriesOf({ fields }: SurveyBuilder): readonly Change[] {
  return ['cables', 'detectors', 'zones', 'sounders'].flatMap((list) => {
    const entries = writtenAt(fields, list);
    return (Array.isArray(entries) ? (entries as Readonly<Record<string, Written>>[]) : []).map(
      ({ id, ...rest }) => ({
        path: `${list}.${String(id)}`,
        value: rest as ChangeValue,
      }),
    );
  });
}

function freeNumber(ids: readonly string[]): number {
  let number = ids.length + 1;
  while (ids.includes(`z${number}`)) number++;
  return Math.max(2, number);
}
