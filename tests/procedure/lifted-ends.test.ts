import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { judgeProof } from '../../source/procedure/judge.ts';
import { openSteps } from '../../source/procedure/next.ts';
import { presentStepById } from '../../source/procedure/present.ts';
import { reasons } from '../../source/procedure/reasons.ts';
import type { JobEvent } from '../../source/procedure/state.ts';
import { nextState } from '../../source/procedure/transition.ts';
import { warnings } from '../../source/procedure/warnings.ts';
import type { Source } from '../../source/rehearsal/building/building.ts';
import { act } from '../../source/rehearsal/building/hands.ts';
import { workCard } from '../../source/rehearsal/technician/card.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { answersTo } from '../drive.ts';
import { demoPlan } from './demo-plan.ts';
import { leadTo } from './lead.ts';

const demo = buildProcedure(demoPlan());
const stepOf = (id: string) => demo.steps.find((step) => step.id === id)!;

describe('a voltage that shows only on a lifted end', () => {
  const dead = leadTo(demo, 'measure.z1');
  const card = stepOf('measure.z1');
  const points = card.proof.flatMap((proof) => (proof.kind === 'sweep' ? [proof.points] : []));
  const swept = (greatest: string) => ({ greatest, at: points[0]![0]!, points: points[0]!.length });
  const worked = (values: Record<string, unknown>) => {
    const judged = judgeProof(card, values);
    if (!judged.ok) throw new Error(JSON.stringify(judged.problems));
    const { verdict, option } = judged;
    const event: JobEvent = { type: 'confirm', step: card.id, verdict, option };
    return { judged, state: nextState(demo, dead, event) };
  };

  // 29 CFR 1910.333(b)(2)(iv)(B): the test looks for unrelated backfeed too. That it comes before the ohms is common
  // practice, no source.
  test('both ends of each loop are swept, DC and AC, once the leg is off and before any ohms', () => {
    const loops = demo.steps.filter((step) => step.acts[0]?.do === 'lift' && step.stage === 'measure');
    expect(loops.map((step) => step.id)).toEqual(
      demo.steps.flatMap(({ id }) => (/^measure\.(?!found)/.test(id) ? [id] : [])),
    );
    for (const { proof, acts, id } of loops) {
      expect(
        proof.slice(0, 3).map((one) => one.field),
        id,
      ).toEqual(['dc', 'ac', 'ac-loaded']);
      const [sweep] = proof;
      const lifted = acts.flatMap((act) => (act.do === 'lift' ? [act.conductor] : []));
      expect(sweep?.kind === 'sweep' && sweep.points, id).toEqual([
        ...lifted,
        expect.stringMatching(/^old:/),
      ]);
      expect(
        proof.slice(3).every((one) => one.kind === 'reading' && one.unless),
        id,
      ).toBe(true);
    }
  });

  test.each([
    ['a telephone that rings', { dc: '0 V', ac: '87 V' }, {}],
    ['its line at rest', { dc: '-49 V', ac: '0 V' }, {}],
    ['another system', { dc: '13.4 V', ac: '0 V' }, {}],
    ['an AC that does not collapse', { dc: '0 V', ac: '16.2 V' }, { 'ac-loaded': '15.9 V' }],
  ])('%s stops the job there: no ohms, nothing landed, dead no longer proved', (_, met, more) => {
    const { judged, state } = worked({ dc: swept(met.dc), ac: swept(met.ac), ...more });
    expect(judged.verdict).toBe('failed');
    expect(judged.fields.map((field) => field.field)).toEqual(['dc', 'ac', ...Object.keys(more)]);
    expect([state.supply, state.context.status['measure.z1']]).toEqual(['isolating', 'failed']);
    expect(openSteps(demo, state).map((step) => step.id)).not.toContain('measure.z2');
    for (const step of ['measure.z1', 'split.z1', 'clear.strip', 'rewire.c1']) {
      expect(reasons(demo, state, { type: 'begin', step }), step).not.toEqual([]);
    }
    expect(reasons(demo, state, { type: 'deviate', step: 'measure.z1' })).not.toEqual([]);
    expect(warnings(demo, state).join(' ')).toContain(
      'find what feeds it, a telephone line or another system',
    );
    // Proved dead again, the end is swept again before it is read.
    const proved = nextState(demo, state, {
      type: 'confirm',
      step: 'supply.prove',
      verdict: 'passed',
      option: null,
    });
    expect(presentStepById(demo, proved, 'measure.z1')?.proof.map((proof) => proof.field)).toContain('ac');
    expect(reasons(demo, proved, { type: 'begin', step: 'rewire.c1' })).not.toEqual([]);
  });

  test('ohms that were read there all the same are kept and judge nothing', () => {
    const values = { ...answersTo(card), dc: swept('13.4 V') };
    const { judged } = worked(values);
    const rest = judged.fields.find((field) => field.field === 'rest');
    expect(rest).toMatchObject({ verdict: 'recorded', fall: { is: 'live' } });
  });

  test('an induced voltage that collapses hinders no ohms, and ringing is never loaded', () => {
    const fields = (values: Record<string, unknown>) => {
      const judged = judgeProof(card, values);
      return judged.ok ? [] : judged.problems.map((problem) => problem.field);
    };
    const induced = { dc: swept('0 V'), ac: swept('9.4 V'), 'ac-loaded': '0.1 V' };
    expect(fields(induced)).toContain('rest');
    expect(fields({ dc: swept('0 V'), ac: swept('9.4 V') })).toContain('ac-loaded');
    expect(fields({ dc: swept('0 V'), ac: swept('87 V') })).toEqual([]);
    expect(worked({ ...answersTo(card), ...induced }).state.supply).toBe('dead');
  });
});

/** A telephone line's ringing on a conductor, against earth: 66 V behind a line and its ringing generator. */
const RINGING: Omit<Source, 'joins'> = {
  name: 'ringing',
  mode: 'ac',
  volts: 66,
  innerOhms: 1500,
  plus: 'ringing+',
  minus: 'ringing-',
  connected: true,
  induced: false,
  feedsBoard: null,
};

// IEEE emc-pstc: ringing of about 66 V at the subscriber, superimposed on 50 V DC.
describe('in a building whose negative is earthed: ringing that closed contacts short to it', () => {
  const plan = demoPlan((text) => text.replace('earthed: unknown', 'earthed: yes'));
  const proved = leadTo(demo, 'supply.prove', ['at-box']);
  const CARDS = ['supply.prove', 'measure.z1', 'split.z1', 'clear.strip', 'clear.voltage'];

  /** The verdict of each card in turn, worked by a technician who types what the meter shows. */
  const verdicts = (rings: string | null): Record<string, string> => {
    const visit = enterBuilding({ survey: plan.survey, wiring: plan.wiring, boards: plan.boards }, 7, []);
    const off = demo.steps.filter(({ id }) => /^(supply\.isolate|isolate\.|sounder\.at-box)/.test(id));
    const dead = off.flatMap(({ acts }) => acts).reduce((at, one) => act(at, one), visit.building);
    const sources = new Map(dead.sources);
    const far = visit.building.wires.get(rings ?? '')?.far;
    if (far !== undefined) sources.set('ringing', { ...RINGING, joins: [far, 'earth'] });
    visit.building = { ...dead, sources };
    return Object.fromEntries(
      CARDS.map((id) => {
        const card = presentStepById(demo, proved, id)!;
        const judged = judgeProof(card, workCard(visit, card));
        if (!judged.ok) throw new Error(`${id}: ${JSON.stringify(judged.problems)}`);
        const ac = judged.fields.find((field) => field.field === 'ac');
        return [id, ac?.verdict ?? judged.verdict];
      }),
    );
  };
  const none = Object.fromEntries(CARDS.map((id) => [id, 'passed']));

  test('nothing rings, nothing is met', () => {
    expect(verdicts(null)).toEqual(none);
  });

  test('on the first pair of two that are joined it is met as they are parted', () => {
    expect(verdicts('c1/2')).toEqual({ ...none, 'split.z1': 'failed', 'clear.voltage': 'failed' });
  });

  test('on the wire that stayed on the common screw it is met once everything is off, before anything is landed', () => {
    expect(verdicts('c2/2')).toEqual({ ...none, 'clear.voltage': 'failed' });
    expect(demo.steps.find((step) => step.id === 'clear.panel')?.waitsFor).toContain('clear.voltage');
  });
});
