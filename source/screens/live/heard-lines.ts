import { sayHeard } from '../../job/hearing/say-heard.ts';
import type { ObservationProof, Step } from '../../procedure/step.ts';
import type { App, StepScreen } from '../app/state.ts';
import type { Room } from '../draw/frame.ts';
import type { Line } from '../draw/line.ts';
import { wrapMarked } from '../draw/wrap.ts';
import { type HeardNow, proposalsFor } from './state.ts';

/** A moment as it is read off a watch. */
export function clockTime(milliseconds: number): string {
  const at = new Date(milliseconds);
  return [at.getHours(), at.getMinutes(), at.getSeconds()]
    .map((part) => `${part}`.padStart(2, '0'))
    .join(':');
}

/** What is heard of the input that is asked for, above its answers; nothing while nobody listens. */
export function heardLines(
  app: App,
  screen: StepScreen,
  step: Pick<Step, 'proof' | 'about' | 'stage'>,
  asked: ObservationProof | null,
  room: Room,
): readonly Line[] {
  const heard = app.live?.heard;
  if (!heard || screen.looking !== null) return [];
  const deaf = deafLines(heard, room);
  if (asked === null) return isOfBoard(app, step) ? [...boardLines(heard, screen, step, room), ...deaf] : [];
  const id = `${asked.board}/${asked.input}`;
  const stands = heard.inputs.get(id);
  const proposal = proposalsFor(app, step.proof, screen.heardFrom).get(asked.field);
  const now =
    stands === undefined
      ? 'not heard yet'
      : stands.kept
        ? `${stands.state}, as it was told earlier: not heard now`
        : `${stands.state} since ${clockTime(stands.atMilliseconds)}`;
  const { glyphs, columns } = room;
  const lines = wrapMarked({ text: `${id} `, bold: true }, now, columns);
  if (!proposal) return [...lines, ...deaf];
  const said = sayHeard(proposal.heard, (at) => clockTime(Date.parse(at)));
  if (proposal.answer !== null) {
    const isFit = proposal.answer === asked.expect;
    const early = warmUp(app, asked, proposal.heard.at);
    const tone = isFit && early === null ? 'good' : 'caution';
    const mark = { text: `${glyphs[isFit ? 'done' : 'caution']} `, tone, bold: true } as const;
    return [...lines, ...wrapMarked(mark, `${said}${early ?? ''}. Enter takes it.`, columns), ...deaf];
  }
  const isElsewhere = proposal.heard.others.length > 0;
  const text = isElsewhere
    ? `Asked ${id}, heard ${proposal.heard.others.join(', ')}: say what you see here, and what may be behind it is told.`
    : said;
  const mark = {
    text: `${isElsewhere ? glyphs.caution : glyphs.open} `,
    ...(isElsewhere && { tone: 'caution' as const }),
  };
  return [...lines, ...wrapMarked(mark, text, columns), ...deaf];
}

// A detector that reports before it has warmed up proves nothing.
function warmUp({ job }: App, { detector }: ObservationProof, at: string | null): string | null {
  const until = job?.warmUntil?.[detector];
  if (until === undefined || at === null || Date.parse(at) >= until) return null;
  const seconds = Math.ceil((until - Date.parse(at)) / 1000);
  return `; ${seconds} s before its warm-up was over, so it proves little`;
}

function isOfBoard({ job }: App, { about, stage, proof }: Pick<Step, 'proof' | 'about' | 'stage'>): boolean {
  const isAbout = job?.plan.boards.some(({ id }) => about.includes(id)) ?? false;
  return isAbout && stage === 'walk-test' && !proof.some(({ kind }) => kind === 'observation');
}

const MOST_EVENTS = 4;

/** What a board did since the card was opened: what times a failure of the mains. */
function boardLines(
  heard: HeardNow,
  { heardFrom }: StepScreen,
  { about }: Pick<Step, 'about'>,
  room: Room,
): readonly Line[] {
  const from = heardFrom?.atMilliseconds ?? 0;
  const changes = heard.changes
    .filter(({ seq, board }) => seq >= (heardFrom?.seq ?? 0) && about.includes(board))
    .map(({ board, input, state, atMilliseconds: at }) => ({
      at,
      says: `${board}/${input} ${state}, and nobody should have worked it`,
    }));
  const coming = heard.presence
    .filter(({ board, atMilliseconds }) => about.includes(board) && atMilliseconds >= from)
    .map(({ board, here, atMilliseconds: at }) => ({
      at,
      says: `${board} ${here ? 'is there again' : 'is gone'}`,
    }));
  const gaps = heard.deaf
    .filter(({ fromMilliseconds }) => fromMilliseconds >= from)
    .flatMap(({ fromMilliseconds, toMilliseconds }) => [
      { at: fromMilliseconds, says: 'nothing can be heard from here on' },
      ...(toMilliseconds === null
        ? []
        : [
            {
              at: toMilliseconds,
              says: `heard again, after ${Math.ceil((toMilliseconds - fromMilliseconds) / 1000)} s`,
            },
          ]),
    ]);
  const events = [...changes, ...coming, ...gaps].sort((a, b) => a.at - b.at);
  const shown = events.slice(-MOST_EVENTS);
  const hidden = events.length - shown.length;
  return [
    ...(hidden > 0 ? [[{ text: `${hidden} events before these`, tone: 'quiet' as const }]] : []),
    ...shown.flatMap(({ at, says }) =>
      wrapMarked({ text: `${clockTime(at)} `, bold: true }, says, room.columns),
    ),
    ...(events.length === 0 ? [[{ text: 'Since this card was opened nothing was heard of it.' }]] : []),
  ];
}

/** Why nothing can be heard, and since when. */
export function deafLines(heard: HeardNow, room: Room): readonly Line[] {
  if (heard.says === null) return [];
  const gap = heard.deaf.at(-1);
  const since = gap?.toMilliseconds === null ? `DEAF since ${clockTime(gap.fromMilliseconds)}. ` : '';
  return wrapMarked(
    { text: `${room.glyphs.failed} `, tone: 'bad', bold: true },
    `${since}${heard.says}`,
    room.columns,
  );
}
