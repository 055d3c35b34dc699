import { parseQuantity } from '../electrical/quantity.ts';
import { plain } from '../handover/plain.ts';
import { planInForce } from '../job/plan-of-basis.ts';
import { readJob } from '../job/read-job.ts';
import { type Listening, listen } from '../live/listen.ts';
import { readSetup, writeSetup } from '../live/setup.ts';
import { inputSheet } from '../plan/input-sheet.ts';
import type { Context, Given, Run } from './command.ts';
import { Ending, EXIT } from './exit.ts';
import { jobFolderOf } from './jobs-folder.ts';
import { type News, Teller } from './listen/news.ts';
import { setUp } from './listen/set-up.ts';

/** Hears the boards of a job and prints what they do, until it is stopped. It writes nothing into the record. */
export const run: Run = async (given, context) => {
  const dir = jobFolderOf(given, context);
  const sheet = inputSheet(planInForce(readJob(dir).basis, null));
  const boards = [...new Set(sheet.map(({ board }) => board))].map((id) => ({
    id,
    inputs: sheet.filter(({ board }) => board === id).map(({ input }) => input),
  }));
  const known = readSetup(dir);
  if (typeof known === 'string') throw new Ending('usage', known);
  const setup = setUp(
    known,
    given,
    boards.map(({ id }) => id),
  );
  const source = given.has('stdin') ? ({ kind: 'lines', lines: context.lines() } as const) : setup.source;
  if (source === null)
    throw new Ending(
      'usage',
      'This job does not know where its board is heard. Say --broker mqtt://HOST:PORT, --http PORT or --stdin.',
    );
  const seconds = secondsOf(given);
  const names = new Map(sheet.map(({ board, input, name }) => [`${board}/${input}`, name]));
  const teller = new Teller();
  const tell = (news: readonly News[]) => {
    for (const one of news) context.out(given.json ? sayJson(one, names) : plain(say(one, names)));
  };
  return await new Promise<(typeof EXIT)[keyof typeof EXIT]>((resolve, reject) => {
    let listening: Listening | null = null;
    const look = () => {
      const heard = listening?.look();
      if (!heard) return;
      tell(teller.news(heard, context.system.now().getTime()));
      if (heard.isOver) end(source.kind === 'lines' ? EXIT.done : EXIT.usage);
    };
    const end = (code: (typeof EXIT)[keyof typeof EXIT]) => {
      if (timer) clearTimeout(timer);
      process.off('SIGINT', stop);
      process.off('SIGTERM', stop);
      listening?.close();
      resolve(code);
    };
    const stop = () => {
      look();
      end(EXIT.done);
    };
    const timer = seconds === null ? null : setTimeout(stop, seconds * 1000);
    process.once('SIGINT', stop);
    process.once('SIGTERM', stop);
    listen({ source, mappings: setup.boards, boards, env: context.env, onHeard: look }).then((made) => {
      if (typeof made === 'string') {
        // First what went wrong, for the first word counts: otherwise it ends without one.
        reject(new Ending('usage', made));
        end(EXIT.usage);
        return;
      }
      listening = made;
      writeIfNew(dir, setup, known);
      sayWhere(
        made,
        context,
        boards.filter(({ id }) => setup.boards[id] === undefined).map(({ id }) => id),
      );
    }, reject);
  });
};

function writeIfNew(dir: string, setup: ReturnType<typeof setUp>, known: ReturnType<typeof setUp>): void {
  if (JSON.stringify(setup) !== JSON.stringify(known)) writeSetup(dir, setup);
}

function sayWhere(listening: Listening, context: Context, without: readonly string[]): void {
  context.err(`Listening to ${listening.look().to}. Ctrl+C ends it.`);
  for (const board of without)
    context.err(
      `Nobody has said how ${board} tells its inputs, so only the Homie convention is understood. Say --topic, or learn it in the screens: l on a card.`,
    );
}

function secondsOf(given: Given): number | null {
  const text = given.text('for');
  if (text === undefined) return null;
  const time = parseQuantity(text, 'seconds', 'field-unit');
  if (time.ok && time.value > 0 && time.value <= 86_400) return time.value;
  throw new Ending('usage', `--for ${text} is no time. Give one such as "10 min", at most a day.`);
}

function sayJson(news: News, names: ReadonlyMap<string, string>): string {
  const name = news.event === 'input' ? { name: names.get(`${news.board}/${news.input}`) ?? '' } : {};
  return JSON.stringify({ format: 'loopward/heard@1', ...news, ...name });
}

function say(news: News, names: ReadonlyMap<string, string>): string {
  const at = news.at.slice(11, 19);
  switch (news.event) {
    case 'input': {
      const id = `${news.board}/${news.input}`;
      const often = news.more > 0 ? `, and ${news.more} more changes` : '';
      return `${at}  ${id.padEnd(6)} ${news.state.padEnd(6)}  ${names.get(id) ?? ''}${often}`.trimEnd();
    }
    case 'deaf':
      return `${at}  DEAF    ${news.says}`;
    case 'hearing':
      return `${at}  hears${news.deafSeconds > 0 ? ` again, after ${news.deafSeconds} s without` : ''}`;
    case 'board':
      return `${at}  ${news.board} ${news.here ? 'is there' : 'is gone'}`;
  }
}
