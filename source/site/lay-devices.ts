import type { CoreUse, NodeId } from '../wiring/wiring.ts';
import { fromPanelOutwards, type Harness } from './harness.ts';
import { homeScrew, rankAmongUse } from './screws.ts';
import type { Cable, Core, Survey } from './survey.ts';

/** What hangs at the far end of a cable, by what it is: cores look for the first of their kind. */
type Hanging = { readonly id: string; readonly takes: 'aux' | 'sounder' | 'keypad' };

/** The terminal of a device on which a core of each use ends, and what kind of device has it. */
const POSTS: Partial<
  Record<CoreUse, { readonly post: string; readonly takes: readonly Hanging['takes'][] }>
> = {
  'aux-positive': { post: 'pos', takes: ['aux', 'keypad'] },
  'aux-negative': { post: 'neg', takes: ['aux', 'keypad'] },
  'sounder-positive': { post: 'pos', takes: ['sounder'] },
  'sounder-negative': { post: 'neg', takes: ['sounder'] },
  'hold-off': { post: 'hold', takes: ['sounder'] },
  trigger: { post: 'trigger', takes: ['sounder'] },
  strobe: { post: 'strobe', takes: ['sounder'] },
  keypad: { post: 'data', takes: ['keypad'] },
};

/** Uses that go on from the far end of one cable into the next. */
const GOES_ON: ReadonlySet<CoreUse> = new Set([...(Object.keys(POSTS) as CoreUse[]), 'telephone', 'data']);

/** Lays what belongs to no loop: supplies, sounders, keypads, lines. Then connects what draws current. */
export function layDevices(survey: Survey, harness: Harness): void {
  const hanging = hangingOn(survey);
  for (const cable of fromPanelOutwards(survey)) {
    cable.cores.forEach((core, index) => {
      const number = index + 1;
      const feed =
        cable.from === 'panel' ? null : feedingCore(harness.cable(cable.from), core, cable.cores, number);
      if (feed !== null) {
        const node = harness.setFar(cable.from, feed, () => harness.joint(cable.from));
        harness.setNear(cable.id, number, node, null);
      }
      const screw = homeScrew(cable, number, survey.panel);
      if (screw !== null && cable.from === 'panel') harness.setNear(cable.id, number, `old:${screw}`, screw);
      const post = postOf(cable, core, number, hanging.get(cable.id) ?? []);
      if (post === null) return;
      harness.setFar(cable.id, number, () => post.node);
      harness.serve(cable.id, number, post.device, null);
    });
  }
  layLoads(survey, harness);
}

function hangingOn(survey: Survey): ReadonlyMap<string, readonly Hanging[]> {
  const hanging = new Map<string, Hanging[]>();
  const add = (cable: string, id: string, takes: Hanging['takes']) =>
    hanging.set(cable, [...(hanging.get(cable) ?? []), { id, takes }]);
  for (const { id, cable, supply } of survey.detectors) {
    if (supply !== null && supply !== 'from-loop') add(cable, id, 'aux');
  }
  for (const { id, cable } of survey.sounders) add(cable, id, 'sounder');
  for (const { id, cable } of survey.keypads) add(cable, id, 'keypad');
  return hanging;
}

function postOf(cable: Cable, core: Core, number: number, hanging: readonly Hanging[]) {
  const kind = POSTS[core.use];
  if (kind === undefined) return null;
  const able = hanging.filter(({ id, takes }) => kind.takes.includes(takes) && (core.for ?? id) === id);
  const device = able[0]?.id;
  if (device === undefined) return null;
  const post = core.use === 'keypad' ? `${kind.post}${rankAmongUse(cable.cores, number) + 1}` : kind.post;
  return { device, node: `post:${device}.${post}` satisfies NodeId };
}

/** The core of the cable before that goes on in this one: of the same use, and for the same device if it says. */
function feedingCore(before: Cable, core: Core, cores: readonly Core[], number: number): number | null {
  if (!GOES_ON.has(core.use)) return null;
  const same = before.cores.flatMap((other, index) =>
    other.use === core.use ? [{ other, at: index + 1 }] : [],
  );
  const own = same.filter(({ other }) => other.for !== null && other.for === core.for);
  const open = own.length > 0 ? own : same.filter(({ other }) => other.for === null);
  const able = open.length > 0 ? open : same;
  return (able[rankAmongUse(cores, number)] ?? able[0])?.at ?? null;
}

function layLoads(survey: Survey, harness: Harness): void {
  const farOf = (cableId: string, device: string, ...uses: CoreUse[]): NodeId | null => {
    const { cores } = harness.cable(cableId);
    for (const use of uses) {
      const own = cores.findIndex((core) => core.use === use && core.for === device);
      const found = own >= 0 ? own : cores.findIndex((core) => core.use === use && core.for === null);
      if (found >= 0) return harness.far(cableId, found + 1);
    }
    return null;
  };
  const add = (device: string, positive: NodeId | null, negative: NodeId | null) => {
    if (positive !== null && negative !== null) harness.loads.push({ device, positive, negative });
  };
  for (const { id, cable, supply } of survey.detectors) {
    if (supply === null || supply === 'from-loop') continue;
    add(id, farOf(cable, id, 'aux-positive'), farOf(cable, id, 'aux-negative'));
  }
  for (const { id, cable } of survey.sounders) {
    const negative = farOf(cable, id, 'sounder-negative', 'aux-negative');
    add(id, farOf(cable, id, 'sounder-positive', 'hold-off'), negative);
  }
  for (const { id, cable } of survey.keypads) {
    add(id, farOf(cable, id, 'aux-positive'), farOf(cable, id, 'aux-negative'));
  }
}
