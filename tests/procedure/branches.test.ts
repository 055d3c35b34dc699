import { describe, expect, test } from 'vitest';
import { buildProcedure } from '../../source/procedure/build-procedure.ts';
import { leaveProof } from '../../source/procedure/leave.ts';
import { closeNeeds, openSteps } from '../../source/procedure/next.ts';
import { presentStepById } from '../../source/procedure/present.ts';
import { reasons } from '../../source/procedure/reasons.ts';
import type { JobEvent, JobState } from '../../source/procedure/state.ts';
import type { Procedure } from '../../source/procedure/step.ts';
import { initialState, nextState } from '../../source/procedure/transition.ts';
import { warnings } from '../../source/procedure/warnings.ts';
import { demoPlan } from './demo-plan.ts';
import { lead, leadTo } from './lead.ts';

const changed = (...pairs: (readonly [string, string])[]) =>
  buildProcedure(
    demoPlan((text) =>
      pairs.reduce((at, [from, to]) => {
        if (!at.includes(from)) throw new Error(`the survey no longer says "${from}"`);
        return at.replace(from, to);
      }, text),
    ),
  );
const stepOf = (procedure: Procedure, id: string) => procedure.steps.find((step) => step.id === id);
const ids = (procedure: Procedure) => procedure.steps.map((step) => step.id);
const demo = buildProcedure(demoPlan());
const MAINS = ['feed: plug-in-transformer', 'feed: hard-wired-transformer'] as const;

describe('how the panel is fed', () => {
  test.each(['hard-wired-transformer', 'mains-in-enclosure', 'unknown'])(
    '%s: the enclosure stays shut until an electrician is on record, and no step of ours isolates the feed',
    (feed) => {
      const procedure = changed([MAINS[0], `feed: ${feed}`]);
      expect(stepOf(procedure, 'survey.open')?.waitsFor).toContain('electrician.record');
      expect(stepOf(procedure, 'electrician.record')?.hard).toBe(true);
      expect(stepOf(procedure, 'supply.isolate')?.acts).not.toContainEqual({ do: 'isolate', source: 'feed' });
      expect(ids(procedure)).not.toContain('survey.baseline');
      expect(closeNeeds(procedure, lead(procedure).state)).toEqual([]);
    },
  );

  test('nothing ever says how to work on mains: no act touches it, and the sentences defer', () => {
    const text = JSON.stringify(changed(MAINS).steps.map(({ title, why }) => [title, why])).toLowerCase();
    for (const word of ['live wire', 'neutral', '230 v', '120 v', 'line terminal', 'mains terminal']) {
      expect(text).not.toContain(word);
    }
  });

  test('a plug is taken out, bagged and told where it is', () => {
    const isolate = stepOf(demo, 'supply.isolate');
    expect(isolate?.acts).toContainEqual({ do: 'isolate', source: 'feed' });
    expect(isolate?.proof.map((proof) => proof.field)).toEqual(
      expect.arrayContaining(['feed', 'tag', 'adapter-b1']),
    );
  });
});

describe('life safety', () => {
  test('no step lifts, parts, lands or insulates a wire of the smoke circuit, and the old board stays for it', () => {
    const held = demo.lifeSafety.conductors;
    expect(held).toEqual(expect.arrayContaining(['c11/1', 'c11/4']));
    const touching = demo.steps.flatMap((step) => step.acts).filter((act) => act.do !== 'label');
    expect(JSON.stringify(touching)).not.toMatch(/c11\//);
    expect(stepOf(demo, 'clear.panel')?.acts).toEqual([]);
  });

  test('what shares its screws waits for the record, and so does powering down', () => {
    const records = ['life-safety.independent', 'impairment.open'];
    for (const id of ['clear.aux', 'clear.keypad.kp', 'supply.isolate']) {
      expect(stepOf(demo, id)?.waitsFor, id).toEqual(expect.arrayContaining(records));
    }
  });

  test('an impairment warns until it is restored, and closing waits for that', () => {
    const { state } = lead(demo, ['impairment']);
    expect(closeNeeds(demo, state)).toEqual([]);
    const open = nextState(demo, state, { type: 'reopen', step: 'impairment.restore' });
    expect(warnings(demo, open).join(' ')).toContain('impairment is open');
    expect(closeNeeds(demo, open).join(' ')).toContain('impairment');
    expect(nextState(demo, open, { type: 'close' })).toBe(open);
  });

  // NFPA 72 on impairments (clause from memory): it ends when the system is restored and tested, not when it is recorded.
  test('an impairment ends after the power went, with protection that was seen to work', () => {
    const restore = stepOf(demo, 'impairment.restore')!;
    expect(restore.waitsFor).toContain('clear.panel');
    const early = { ...initialState(demo), supply: 'live' as const };
    const shut = reasons(demo, early, { type: 'confirm', step: restore.id, verdict: 'passed', option: null });
    expect(shut.map(({ code }) => code)).toContain('waits-for-step');
    const asked = restore.proof.find(({ field }) => field === 'protection');
    if (asked?.kind !== 'choice') throw new Error('nothing asks for it');
    expect(asked.options.filter(({ leads }) => leads === 'pass').map(({ label }) => label)).toEqual([
      expect.stringContaining('tested'),
      expect.stringContaining('tested'),
    ]);
  });

  test('unknown counts as present, and none at all asks nothing', () => {
    const smokeless = (text: string) => text.replace('kind: smoke', 'kind: technical');
    const build = (to: string) =>
      buildProcedure(demoPlan((text) => smokeless(text).replace('lifeSafety: present', `lifeSafety: ${to}`)));
    expect(ids(build('unknown'))).toContain('life-safety.decision');
    expect(ids(build('none')).filter((id) => /life-safety|impairment/.test(id))).toEqual([]);
  });
});

describe('sounders with a battery of their own', () => {
  test.each([
    ['at-box', 'sounder.at-box.gable'],
    ['hold-off', 'sounder.hold-off.gable'],
    ['sounds', 'sounder.sounds.gable'],
  ])('%s: that way is done and recorded, the others are ruled out', (option, id) => {
    const { state, confirmed } = lead(demo, [option]);
    expect(confirmed).toContain(id);
    expect(
      Object.entries(state.context.status).filter(
        ([one, status]) => /^sounder\.(at-box|hold-off|sounds)/.test(one) && status === 'excluded',
      ),
    ).toHaveLength(2);
    expect(closeNeeds(demo, state)).toEqual([]);
  });

  test('a pair that is kept live on purpose is left out of the proof of dead by name', () => {
    const state = leadTo(demo, 'supply.prove', ['hold-off']);
    const sweep = presentStepById(demo, state, 'supply.prove')?.proof.find((proof) => proof.field === 'dc');
    if (sweep?.kind !== 'sweep') throw new Error('no sweep');
    const near = (id: string) => demoPlan().wiring.conductors.find((one) => one.id === id)!.near;
    expect(sweep.points).not.toContain(near('c12/1'));
    expect(sweep.points).toContain(near('c13/1'));
    const other = leadTo(demo, 'supply.prove', ['at-box']);
    const all = presentStepById(demo, other, 'supply.prove')?.proof.find((proof) => proof.field === 'dc');
    expect(all?.kind === 'sweep' && all.points).toContain(near('c12/1'));
  });

  test('a sounder that is known to have none asks for no plan', () => {
    const procedure = changed(
      ['sounderBattery: unknown', 'sounderBattery: no'],
      ['ownBattery: unknown', 'ownBattery: no'],
    );
    expect(ids(procedure).filter((id) => id.startsWith('sounder.'))).toEqual([]);
  });
});

describe('receiving centre, telephone, other sources', () => {
  test('none found is as near as monitored, and asks for no call', () => {
    const { state, confirmed } = lead(demo, ['none-found']);
    expect(confirmed).not.toContain('centre.on-test');
    expect(state.context.status['centre.end']).toBe('excluded');
    expect(closeNeeds(demo, state)).toEqual([]);
  });

  test('monitored: the call comes before the lid, and its end is asked for', () => {
    expect(stepOf(demo, 'survey.open')?.waitsFor).toContain('centre.on-test');
    const { state } = lead(demo);
    const open = nextState(demo, state, { type: 'reopen', step: 'centre.end' });
    expect(closeNeeds(demo, open).join(' ')).toContain('receiving centre');
  });

  test('the telephone line is unplugged and read, and made through again', () => {
    expect(ids(demo)).toEqual(expect.arrayContaining(['isolate.telephone', 'clear.telephone']));
  });

  test('feeds that nobody could rule out are looked for before dead is proved', () => {
    const procedure = changed(['otherFeeds: none', 'otherFeeds: unknown']);
    expect(stepOf(procedure, 'supply.prove')?.waitsFor).toContain('isolate.foreign');
  });

  test('without a standby battery in the survey one is looked for', () => {
    const procedure = changed([
      'batteries: [{capacity: 7 Ah, chemistry: sealed-lead-acid, installed: 2019}]',
      'batteries: []',
    ]);
    expect(ids(procedure)).toContain('isolate.battery');
    expect(ids(procedure)).not.toContain('isolate.battery.1');
  });

  test('an output that may switch mains is the electrician’s, before power-down', () => {
    const procedure = changed([
      'network: {kind: wired',
      'outputs: [{terminals: ["19"], drives: "yard light", voltage: unknown}]\nnetwork: {kind: wired',
    ]);
    expect(stepOf(procedure, 'supply.isolate')?.waitsFor).toContain('output.1');
  });
});

describe('boards', () => {
  test('a board that supervises has resistors fitted instead of only removed', () => {
    const procedure = buildProcedure(
      demoPlan((text) => text.replace('eight-paired', 'twelve-supervised'), 'twelve-supervised'),
    );
    expect(JSON.stringify(procedure.steps)).toContain('fit-resistor');
    expect(closeNeeds(procedure, lead(procedure).state)).toEqual([]);
  });

  test('a board that supervises with two resistors has each asked for, read before and proved with its contact worked', () => {
    const plan = demoPlan(
      (text) => text.replace('eight-paired', 'twelve-supervised'),
      'twelve-supervised',
      (text) =>
        text.replace(
          '{style: series, resistor: 2k2, window: 20 %}',
          '{style: two-resistor, resistor: 2k2, alarmResistor: 4k7, window: 15 %}',
        ),
    );
    const procedure = buildProcedure(plan);
    const fits = procedure.steps.flatMap(({ acts }) => acts.filter((act) => act.do === 'fit-resistor'));
    const moved = plan.circuits.filter(({ purpose }) => purpose === 'detection');
    expect(fits.filter((act) => act.contact === 'alarm').map((act) => [act.detector, act.ohms])).toEqual(
      expect.arrayContaining(moved.flatMap(({ detectors }) => detectors.map((id) => [id, 4700]))),
    );
    expect(fits.filter((act) => !act.contact && act.ohms === 2200)).toHaveLength(plan.circuits.length);
    const card = stepOf(procedure, 'resistors.z1');
    expect(card?.title).toBe('Take out the 2.2 kΩ resistor and fit 2 of 4.7 kΩ: Boat store');
    const fields = card?.proof.map((proof) => proof.field);
    expect(fields).toEqual(expect.arrayContaining(['part.4700', 'fit.shutter.alarm']));
    // What goes in at an input waits for the board: it is read and fitted where its wire is landed.
    const landing = stepOf(procedure, 'rewire.c1');
    expect(landing?.proof.map((proof) => proof.field)).toEqual(
      expect.arrayContaining(['part.2200', 'fit.b1/1']),
    );
    expect(landing?.acts[0]).toMatchObject({ do: 'fit-resistor', between: ['b1:I1', 'b1:I1:resistor'] });
    expect(landing?.acts[1]).toEqual({ do: 'land', conductor: 'c1/1', at: 'b1:I1:resistor' });
    const part = card?.proof.find((proof) => proof.field === 'part.4700');
    expect(part).toMatchObject({ nominal: 4700, usable: { min: 3995, max: 5405 } });
    // 2200 + 4700 in alarm: 6900 ohm, +15 % at most, and what the board's own input beside it takes away.
    const worked = procedure.steps
      .flatMap(({ proof }) => proof)
      .find((proof) => proof.field.startsWith('landed.') && proof.field.endsWith('.active.shutter'));
    expect(worked).toMatchObject({ kind: 'reading', usable: { max: expect.closeTo(7935, 0) }, open: 'no' });
    expect(closeNeeds(procedure, lead(procedure).state)).toEqual([]);
  });

  test('a board without a battery is tested for what it does when mains goes', () => {
    const plan = demoPlan();
    const procedure = buildProcedure({
      ...plan,
      boards: plan.boards.map((board) => ({ ...board, battery: null })),
    });
    expect(ids(procedure)).not.toContain('power.battery.b1');
    expect(JSON.stringify(stepOf(procedure, 'walk.mains-failure.b1'))).toContain('goes-dark');
    expect(closeNeeds(procedure, lead(procedure).state)).toEqual([]);
  });

  test('powered detectors are not judged while they have no supply, and are once they have', () => {
    const ohms = stepOf(demo, 'split.z3')?.proof.filter(
      (proof) => proof.kind === 'reading' && proof.of === 'ohms',
    );
    expect(ohms?.map((proof) => proof.kind === 'reading' && proof.usable)).toEqual([null, null]);
    expect(stepOf(demo, 'walk.hall')?.needs).toBe('energised');
  });
});

describe('what life brings', () => {
  test('power for a night serves finished circuits, and ends with isolating and proving again', () => {
    const state = leadTo(demo, 'rewire.c3');
    const pass: JobEvent = { type: 'confirm', step: 'power.interim', verdict: 'passed', option: null };
    expect(reasons(demo, state, pass)).toEqual([]);
    const night = nextState(demo, nextState(demo, state, pass), { type: 'leave' });
    expect([night.supply, night.context.sitting]).toEqual(['energised', 'none']);
    // Once everything is finished there is power for good.
    expect(openSteps(demo, leadTo(demo, 'power.adapter')).map((step) => step.id)).not.toContain(
      'power.interim',
    );
    expect(openSteps(demo, state).map((step) => step.id)).toContain('power.interim');
    const half = nextState(demo, state, { type: 'begin', step: 'rewire.c3' });
    expect(reasons(demo, half, pass).map((reason) => reason.code)).toEqual(['half-done']);
  });

  test('leaving asks for ends, batteries, power, the centre, the sounder, and who was told', () => {
    const fields = (state: JobState) => leaveProof(demo, state).map((proof) => proof.field);
    expect(fields(initialState(demo))).toEqual(['power', 'sounder', 'told']);
    expect(fields(leadTo(demo, 'rewire.c3'))).toEqual([
      'ends',
      'ends-state',
      'battery',
      'power',
      'until',
      'sounder',
      'told',
    ]);
  });

  test('a walk test that fails and is mended voids the passes of its own circuit alone', () => {
    const { state } = lead(demo);
    const mended = nextState(demo, state, { type: 'reopen', step: 'rewire.c1' });
    const { status } = mended.context;
    expect(status['walk.shutter']).toBe('open');
    expect(status['walk.side-door']).toBe('done');
    expect(status['cold.voltage']).toBe('open');
  });

  test('after mending under power the way back is isolating, proving, the wire, the checks, power, and that walk', () => {
    const { state } = lead(demo);
    const mended = nextState(demo, state, { type: 'reopen', step: 'rewire.c1' });
    const { confirmed, state: after } = lead(demo, ['done'], mended);
    expect(confirmed).toEqual([
      'supply.isolate',
      'supply.prove',
      'rewire.c1',
      'cold.aux.b1',
      'cold.voltage',
      'cold.look',
      'power.adapter',
      'power.battery.b1',
      'power.rest.b1',
      'walk.shutter',
      'sounder.restore.gable',
      'walk.mains-failure.b1',
      'handover.card',
      'handover.user',
      'centre.end',
    ]);
    expect(closeNeeds(demo, after)).toEqual([]);
  });

  test('a blocked plan leaves making safe, and nothing else', () => {
    const dead = leadTo(demo, 'rewire.c3');
    const blocked = { ...demo, blocked: true };
    expect(openSteps(blocked, dead)).toEqual([]);
    const doubted = nextState(blocked, dead, { type: 'doubt' });
    expect(openSteps(blocked, doubted).map((step) => step.id)).toEqual(['supply.prove', 'supply.isolate']);
    expect(reasons(blocked, dead, { type: 'begin', step: 'rewire.c3' }).map((one) => one.code)).toContain(
      'plan-blocked',
    );
  });

  test('a survey of the outside alone leads to the open door and is not closed', () => {
    const plan = demoPlan();
    const procedure = buildProcedure({ ...plan, survey: { ...plan.survey, complete: false } });
    expect(procedure.incomplete).toBe(true);
    const { state, confirmed } = lead(procedure);
    expect(confirmed.at(-1)).toBe('survey.open');
    expect(closeNeeds(procedure, state).join(' ')).toContain('Complete the survey');
  });

  test('the short proof covers the rails and the wires that are next', () => {
    const landed: JobEvent = { type: 'confirm', step: 'rewire.c1', verdict: 'passed', option: null };
    const dead = nextState(demo, leadTo(demo, 'rewire.c3'), landed);
    const gap = nextState(demo, dead, { type: 'interrupted', why: 'gap', sitting: 'screens' });
    const [first] = openSteps(demo, gap);
    expect(first?.id).toBe('supply.prove-short');
    const sweep = first?.proof.find((proof) => proof.kind === 'sweep');
    if (sweep?.kind !== 'sweep') throw new Error('no sweep');
    expect(sweep.points).toEqual(expect.arrayContaining(['b1:A+', 'c3/1']));
    // Landed before the gap, so no longer hanging free.
    expect(sweep.points).not.toContain('c1/1');
  });
});
