import type { Plan, Severity } from '../../plan/plan.ts';
import type { Room } from '../draw/frame.ts';
import type { Glyphs } from '../draw/glyphs.ts';
import type { Line } from '../draw/line.ts';
import type { Tone } from '../draw/palette.ts';
import { wrapMarked } from '../draw/wrap.ts';

export const VERDICT_WORDS: Readonly<
  Record<Plan['verdict'], { says: string; tone: Tone; sign: keyof Glyphs }>
> = {
  ready: { says: 'The boards can take this site.', tone: 'good', sign: 'done' },
  caution: {
    says: 'The boards can take this site, with the cautions below.',
    tone: 'caution',
    sign: 'caution',
  },
  blocked: { says: 'Blocked: no work may start on this plan.', tone: 'bad', sign: 'failed' },
};

export const SEVERITY_WORDS: Readonly<Record<Severity, { says: string; tone: Tone; sign: keyof Glyphs }>> = {
  block: { says: 'blocks', tone: 'bad', sign: 'failed' },
  gate: { says: 'before', tone: 'caution', sign: 'caution' },
  caution: { says: 'caution', tone: 'caution', sign: 'caution' },
  note: { says: 'note', tone: 'quiet', sign: 'dot' },
};

/** The verdict of a plan and everything it asks to mind, for the step that agrees to it. */
export function planInWords(plan: Plan, room: Room): readonly Line[] {
  const verdict = VERDICT_WORDS[plan.verdict];
  const minded = plan.findings.filter(({ severity }) => severity !== 'note');
  return [
    ...wrapMarked(
      { text: `${room.glyphs[verdict.sign]} `, tone: verdict.tone, bold: true },
      verdict.says,
      room.columns,
      { bold: true },
    ),
    ...minded.flatMap(({ severity, message }) => {
      const { sign, tone } = SEVERITY_WORDS[severity];
      return wrapMarked({ text: `  ${room.glyphs[sign]} `, tone, bold: true }, message, room.columns);
    }),
  ];
}
