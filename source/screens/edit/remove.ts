import type { Change, ChangeValue } from '../../site/correct-survey.ts';
import { isLifeSafety } from '../../site/survey.ts';
import { choice, type Question } from '../survey/question.ts';
import { type Site, writtenAt } from './site.ts';

/** What is taken out of a survey: a detector with what only it needs, a zone with all that is in it, a cable. */
export type Removing = { readonly what: 'detector' | 'zone' | 'cable'; readonly id: string };

/** What changes in the file, and what goes with it, in words. */
type Removal = { readonly changes: readonly Change[]; readonly says: string };

/** The question before something is taken out, with what goes with it. */
export function removalQuestion(site: Site, removing: Removing): Question {
  const { says, changes } = removal(site, removing);
  const yes = changes.length === 0 ? [] : [['remove', 'yes, take it out'] as const];
  return choice(
    { id: 'remove', about: says, asks: `Take ${removing.what} ${removing.id} out of the survey?` },
    ['keep', 'no, leave it as it is'],
    ...yes,
  );
}

/** What taking it out changes. The last detector of a zone takes the zone with it. */
export function removal(site: Site, { what, id }: Removing): Removal {
  const { survey } = site;
  if (what === 'cable')
    return { changes: [out(`cables.${id}`)], says: `Cable ${id} goes, and nothing else.` };
  const zone = survey.zones.find((one) => (what === 'zone' ? one.id === id : one.detectors.includes(id)));
  if (!zone) return { changes: [], says: 'It is in no zone.' };
  const goes = what === 'zone' ? zone.detectors : [id];
  const held = survey.detectors.find((one) => goes.includes(one.id) && isLifeSafety(one.kind));
  if (held) return { changes: [], says: `${held.name} is life safety. ${HELD}` };
  const stays = zone.detectors.filter((one) => !goes.includes(one));
  const cables = cablesOf(site, goes);
  const devices = [
    ...goes.map((one) => out(`detectors.${one}`)),
    ...cables.map((one) => out(`cables.${one}`)),
  ];
  const names = survey.detectors.filter((one) => goes.includes(one.id)).map(({ name }) => name);
  const gone = [...names, ...cables.map((cable) => `cable ${cable}`)].join(', ');
  if (stays.length === 0) {
    const says = `${gone} and zone ${zone.id} go. Its screws ${zone.terminals.join(' and ')} stay on the panel, and nothing is planned for them.`;
    return { changes: [...devices, out(`zones.${zone.id}`), ...sharing(site, zone.id)], says };
  }
  return {
    changes: [out(`zones.${zone.id}.detectors.${id}`), ...joining(site, zone.id, id, stays), ...devices],
    says: `${gone} go. Zone ${zone.id} keeps ${stays.length === 1 ? 'one detector' : `${stays.length} detectors`}.`,
  };
}

/** What is not in the survey is not kept from harm. */
const HELD =
  'It stays in the survey, so that it is left alone on site. Where it is none, change its kind first; where it is not there at all, say so to whoever is responsible for it.';

const out = (path: string): Change => ({ path, value: null });

/** The cables that nothing else hangs on, and no other cable goes on from. */
function cablesOf({ survey }: Site, goes: readonly string[]): readonly string[] {
  const { detectors, sounders, keypads } = survey;
  const kept = [...detectors.filter(({ id }) => !goes.includes(id)), ...sounders, ...keypads];
  const used = new Set(kept.map(({ cable }) => cable));
  const own = detectors.filter(({ id }) => goes.includes(id)).map(({ cable }) => cable);
  const leaving = new Set(own.filter((cable) => !used.has(cable)));
  const carries = (id: string) => survey.cables.some(({ id: by, from }) => from === id && !leaving.has(by));
  // A run may hang on a run: what carries one that stays, stays as well.
  for (const _ of own) for (const id of leaving) if (carries(id)) leaving.delete(id);
  return [...leaving];
}

/** How the zone is joined, and where its resistor sits, once one is out of it. */
function joining(site: Site, zone: string, id: string, stays: readonly string[]): readonly Change[] {
  const path = `zones.${zone}`;
  const joined = writtenAt(site.written, `${path}.joined`);
  const at = writtenAt(site.written, `${path}.loop.resistorAt.detector`);
  const changes: Change[] = at === id ? [{ path: `${path}.loop.resistorAt`, value: 'unknown' }] : [];
  if (joined === null) return changes;
  if (stays.length === 1) return [...changes, out(`${path}.joined`)];
  if (!Array.isArray(joined)) return changes;
  const sets = (joined as string[][])
    .map((set) => set.filter((one) => one !== id))
    .filter((set) => set.length > 1);
  const value: ChangeValue = sets.length === 0 ? 'panel' : sets;
  return [...changes, { path: `${path}.joined`, value }];
}

/** The sets of zones that may share an input, without this one. */
function sharing({ written }: Site, zone: string): readonly Change[] {
  const sets = writtenAt(written, 'mayShare');
  if (!Array.isArray(sets)) return [];
  const left = (sets as string[][])
    .map((set) => set.filter((one) => one !== zone))
    .filter((set) => set.length > 1);
  if (JSON.stringify(left) === JSON.stringify(sets)) return [];
  return [{ path: 'mayShare', value: left.length === 0 ? null : left }];
}
