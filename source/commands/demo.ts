import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { bundledFile, DEMO_SURVEY } from '../job/bundled.ts';
import { readHistory } from '../job/history.ts';
import { planChangeover } from '../plan/plan-changeover.ts';
import { planToJson } from '../plan/plan-to-json.ts';
import { planToText } from '../plan/plan-to-text.ts';
import { paragraph } from '../plan/text/layout.ts';
import type { Context, Run } from './command.ts';
import { EXIT } from './exit.ts';
import { showScreens } from './open-screens.ts';
import { siteOf } from './problems.ts';

/** What is wrong in the building of the demo's rehearsal: a resistor that nobody looked for. */
const FAULT = 'resistor-at-detector';

/** The bundled job: in the screens; without a terminal its plan, a rehearsed changeover and the way on. */
export const run: Run = async (given, context) => {
  if (context.terminal && !given.json) return showScreens({ kind: 'demo' }, given, context);
  const file = bundledFile(DEMO_SURVEY);
  const { survey, boards } = siteOf(file, []);
  const plan = planChangeover(survey, boards);
  if (given.json) {
    context.out(JSON.stringify(planToJson(plan)));
    return EXIT.done;
  }
  context.out(planToText(plan, context.columns));
  await rehearseDemo(file, context);
  context.out(`\nThe survey of the demo is ${file}. In a terminal loopward demo opens it in the screens.`);
  context.out(`Without one: loopward start ${file} --job ./demo`);
  context.out('then loopward next ./demo and loopward act ./demo ACTION, step by step.');
  return EXIT.done;
};

async function rehearseDemo(file: string, context: Context): Promise<void> {
  const { run: rehearse } = await import('./rehearse.ts');
  const folder = mkdtempSync(join(tmpdir(), 'loopward-demo-'));
  try {
    const dir = join(folder, 'job');
    const debrief: string[] = [];
    const options: Readonly<Record<string, string>> = { job: dir };
    await rehearse(
      {
        arguments: [file],
        json: false,
        text: (option) => options[option],
        all: (option) => (option === 'fault' ? [FAULT] : []),
        has: () => false,
      },
      Object.assign(Object.create(context) as Context, { out: (line: string) => debrief.push(line) }),
    );
    const tell = (text: string, first: string, rest: string) => {
      for (const line of paragraph(text, context.columns, first, rest)) context.out(line);
    };
    context.out(`\nA rehearsed changeover, in a simulated building with one fault in it:\n`);
    for (const { n, says } of readHistory(dir, { kind: 'act' }))
      tell(says, `${String(n).padStart(4)}  `, '      ');
    context.out('');
    // The last line says where the record stands, and this one goes away.
    for (const line of debrief.slice(0, -1)) {
      if (line.length <= context.columns) context.out(line);
      else tell(line, '', '    ');
    }
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
