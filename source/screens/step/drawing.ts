import type { Plan } from '../../plan/plan.ts';
import type { Proof, Step } from '../../procedure/step.ts';
import type { Act } from '../../wiring/act.ts';
import type { OpenJob } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';
import { loopLine } from '../draw/loop-line.ts';
import { drawStrip, type StripScrew, type StripWire } from '../draw/strip.ts';
import { wrapped } from '../draw/wrap.ts';
import { bareScrew, screwOf } from './asked-proofs.ts';
import { inputRowLines } from './input-rows.ts';
import { TOUR_FROM, tourLines } from './tour.ts';

/**
 * What the step needs to see: the screws and conductors it touches, the loop it reads, the board it lands on.
 * `asked`: what has the keys now, which the picture is then about; null while it is only looked at.
 */
export function drawStep(job: OpenJob, step: Step, asked: Proof | null, room: Room): readonly Line[] {
  const touched = conductorsOf(step);
  const loops = loopsOf(job.plan, step, asked, room);
  if (asked?.kind === 'sweep' && asked.points.length >= TOUR_FROM) return tourLines(job, asked, room);
  const inputs = inputRowLines(job, step, asked, room);
  if (room.linear || inputs.length > 0) return [...inputs, ...loops];
  return [...oldStrip(job, step, touched, asked, room), ...newStrips(job, step, touched, room), ...loops];
}

/** The conductors a step is about. */
function conductorsOf(step: Step): ReadonlySet<string> {
  const acts = step.acts.flatMap((act) =>
    act.do === 'part' ? act.conductors : 'conductor' in act ? [act.conductor] : [],
  );
  return new Set([...acts, ...step.about.filter((id) => /^[a-z0-9-]+\/\d+$/.test(id))]);
}

const WORDS: Partial<Record<Act['do'], string>> = {
  lift: 'lift',
  cut: 'cut',
  label: 'label',
  insulate: 'insulate',
};

function oldStrip(
  job: OpenJob,
  step: Step,
  touched: ReadonlySet<string>,
  asked: Proof | null,
  room: Room,
): readonly Line[] {
  const { conductors } = job.plan.wiring;
  const marked = markedScrews(job.plan, step, touched, asked);
  const lands = step.acts.some((act) => act.do === 'land');
  if (marked.size === 0 || marked.size > 4 || lands) return [];
  const lifted = liftedBy(job);
  const names = [
    ...new Set([
      ...marked,
      ...conductors.flatMap((one) => (one.screw !== null && one.atPanel ? [bareScrew(one.screw)] : [])),
    ]),
  ];
  const screws = names.sort(byNumber).map(
    (screw): StripScrew => ({
      name: screw,
      marked: marked.has(screw),
      wires: conductors
        .filter((one) => one.screw !== null && bareScrew(one.screw) === screw && one.atPanel)
        .map((one): StripWire => {
          const act = step.acts.find((each) => 'conductor' in each && each.conductor === one.id);
          const word = act ? (WORDS[act.do] ?? '') : lifted.has(one.id) ? 'is off' : '';
          return { colour: one.colour, id: one.id, marked: touched.has(one.id), note: word };
        }),
    }),
  );
  return drawStrip('old panel', screws, room);
}

// What is asked for now is what is marked; while nothing is, all that the step touches.
function markedScrews(
  plan: Plan,
  step: Step,
  touched: ReadonlySet<string>,
  asked: Proof | null,
): ReadonlySet<string> {
  const screws = (points: readonly string[]) =>
    new Set(points.map((point) => screwOf(plan, point)).filter((screw) => screw !== null));
  const inHand = asked === null ? [] : pointsOf(asked);
  const now = screws(inHand);
  if (now.size > 0) return now;
  const ends = step.proof.flatMap((proof) => (proof.kind === 'reading' ? proof.between : []));
  const at = step.acts.flatMap((act) => {
    const screw = 'at' in act ? bareScrew(act.at) : ':';
    return screw.includes(':') ? [] : [`old:${screw}`];
  });
  return screws([...ends, ...at, ...touched]);
}

function pointsOf(proof: Proof): readonly string[] {
  if (proof.kind === 'reading') return proof.between;
  if (proof.kind === 'sweep') return proof.points;
  // A question about one conductor has its id.
  return /^[a-z0-9-]+\/\d+$/.test(proof.field) ? [proof.field] : [];
}

// The board as it stands now, and the conductor that goes on next.
function newStrips(job: OpenJob, step: Step, touched: ReadonlySet<string>, room: Room): readonly Line[] {
  const { connections, wiring } = job.plan;
  const lands = step.acts.flatMap((act) => (act.do === 'land' ? [act] : []));
  const board = lands[0]?.at.split(':')[0];
  if (board === undefined) return [];
  const landed = landedBy(job);
  const terminals = new Map<string, StripWire[]>();
  for (const { conductor, to } of connections) {
    const at =
      lands.find((act) => act.conductor === conductor)?.at ??
      ('board' in to ? `${to.board}:${to.terminal}` : '');
    if (!at.startsWith(`${board}:`)) continue;
    const wires = terminals.get(at) ?? [];
    terminals.set(at, wires);
    const now = touched.has(conductor);
    if (!now && !landed.has(conductor)) continue;
    const colour = wiring.conductors.find((one) => one.id === conductor)?.colour ?? '';
    wires.push({ colour, id: conductor, marked: now, note: now ? 'land here' : 'landed' });
  }
  const screws = [...terminals]
    .sort(([a], [b]) => byNumber(a, b))
    .map(
      ([at, wires]): StripScrew => ({
        name: at.slice(board.length + 1),
        marked: lands.some((act) => act.at === at),
        wires,
      }),
    );
  return drawStrip(`board ${board}`, screws, room);
}

function loopsOf(plan: Plan, step: Step, asked: Proof | null, room: Room): readonly Line[] {
  const isRead = asked?.kind === 'reading' && asked.point !== null;
  return (isRead ? [asked] : step.proof)
    .flatMap((proof) => {
      if (proof.kind !== 'reading' || proof.point === null) return [];
      const point = plan.points.find((one) => one.id === proof.point);
      if (!point) return [];
      return wrapped(loopLine(point.between, point.expression, point.with, room.glyphs), room.columns);
    })
    .slice(0, 6);
}

function doneActs(job: OpenJob): readonly Act[] {
  return job.steps.filter((step) => job.status[step.id] === 'done').flatMap((step) => step.acts);
}

function liftedBy(job: OpenJob): ReadonlySet<string> {
  return new Set(
    doneActs(job).flatMap((act) => (act.do === 'lift' || act.do === 'cut' ? [act.conductor] : [])),
  );
}

function landedBy(job: OpenJob): ReadonlySet<string> {
  return new Set(doneActs(job).flatMap((act) => (act.do === 'land' ? [act.conductor] : [])));
}

function byNumber(a: string, b: string): number {
  return a.localeCompare(b, 'en', { numeric: true });
}
