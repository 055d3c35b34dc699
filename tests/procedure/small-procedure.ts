import type { Procedure, Step } from '../../source/procedure/step.ts';
import { STOP_STEPS } from '../../source/procedure/stops.ts';
import type { Act } from '../../source/wiring/act.ts';

const choice = (field: string, leads: Record<string, 'pass' | 'fail' | 'branch'>): Step['proof'] => [
  {
    field,
    kind: 'choice',
    label: field,
    options: Object.entries(leads).map(([id, lead]) => ({ id, label: id, leads: lead })),
  },
];

/** A step by what matters to the gates; the rest is filled in. */
export function aStep(id: string, part: Partial<Step>): Step {
  return {
    id,
    stage: 'survey',
    title: `Do ${id}`,
    why: 'because',
    cautions: [],
    acts: [],
    needs: 'any',
    waitsFor: [],
    proof: [{ field: 'word', kind: 'text', label: 'word', minLength: 1, offers: ['1'], numeric: true }],
    hard: true,
    repeatable: false,
    effect: null,
    onlyIf: [],
    about: [],
    ...part,
  };
}

const lift = (conductor: string, at: string): Act => ({ do: 'lift', conductor, at });
const isolate = (source: string): Act => ({ do: 'isolate', source });
const sweep = (of: 'volts-dc' | 'ohms', points: readonly string[] = ['a']): Step['proof'] => [
  {
    field: 'sweep',
    kind: 'sweep',
    of,
    unit: of === 'ohms' ? 'ohm' : 'V',
    label: 's',
    min: -0.5,
    max: 0.5,
    points,
  },
];

/**
 * As few steps as hold every rule of safety: mains behind the door, a life-safety circuit that shares a screw, a
 * battery, one zone whose two conductors are labelled, lifted, parted and landed, power, a test, an end.
 */
export const SMALL: Procedure = {
  interruptionSeconds: 900,
  blocked: false,
  incomplete: false,
  mainsFed: true,
  conductors: ['c1/1', 'c2/1'],
  lifeSafety: { conductors: ['c9/1'], shared: ['c2/1'] },
  steps: [
    aStep('life-safety.decision', {
      proof: choice('way', { independent: 'branch', impairment: 'branch', 'not-sure': 'fail' }),
    }),
    aStep('life-safety.independent', {
      onlyIf: [{ step: 'life-safety.decision', options: ['independent'] }],
    }),
    aStep('impairment.open', { onlyIf: [{ step: 'life-safety.decision', options: ['impairment'] }] }),
    aStep('electrician.record', { waitsFor: ['life-safety.independent', 'impairment.open'] }),
    aStep('survey.open', { acts: [{ do: 'open-enclosure' }], waitsFor: ['electrician.record'] }),
    aStep('prepare.adapter.b1', { stage: 'prepare', waitsFor: ['survey.open'] }),
    aStep('prepare.bench', {
      stage: 'prepare',
      hard: false,
      waitsFor: ['prepare.adapter.b1'],
      acts: [{ do: 'connect-source', source: 'adapter:b1', board: 'b1' }],
    }),
    aStep('supply.isolate', {
      stage: 'power-down',
      repeatable: true,
      effect: 'isolate',
      acts: [isolate('feed'), isolate('adapter:b1')],
      waitsFor: ['prepare.bench'],
    }),
    aStep('isolate.battery', { stage: 'power-down', needs: 'isolating', acts: [isolate('battery:1')] }),
    aStep('supply.prove', {
      stage: 'power-down',
      repeatable: true,
      effect: 'prove',
      waitsFor: ['isolate.battery'],
      proof: sweep('volts-dc'),
    }),
    aStep('supply.prove-short', {
      stage: 'power-down',
      repeatable: true,
      effect: 'prove-short',
      proof: sweep('volts-dc'),
    }),
    aStep('label.c1', { stage: 'label', needs: 'dead', acts: [{ do: 'label', conductor: 'c1/1' }] }),
    aStep('label.c2', { stage: 'label', needs: 'dead', acts: [{ do: 'label', conductor: 'c2/1' }] }),
    aStep('measure.z1', {
      stage: 'measure',
      needs: 'dead',
      waitsFor: ['label.c1', 'label.c2', 'life-safety.independent', 'impairment.open'],
      acts: [lift('c1/1', '8'), lift('c2/1', '8')],
      proof: sweep('volts-dc'),
      about: ['z1'],
    }),
    aStep('split.z1', {
      stage: 'split',
      needs: 'dead',
      hard: false,
      waitsFor: ['measure.z1'],
      acts: [{ do: 'part', join: 'join:z1.1', conductors: ['c1/1', 'c2/1'] }],
      proof: sweep('volts-dc'),
      about: ['z1'],
    }),
    aStep('clear.voltage', {
      stage: 'clear',
      needs: 'dead',
      waitsFor: ['split.z1'],
      proof: sweep('volts-dc', ['c1/1', 'c2/1']),
    }),
    aStep('rewire.z1', {
      stage: 'rewire',
      needs: 'dead',
      hard: false,
      waitsFor: ['clear.voltage'],
      acts: [{ do: 'land', conductor: 'c1/1', at: 'b1:I1' }],
    }),
    aStep('cold.voltage', {
      stage: 'power-up',
      needs: 'dead',
      waitsFor: ['rewire.z1'],
      proof: sweep('volts-dc'),
    }),
    aStep('power.adapter', {
      stage: 'power-up',
      needs: 'dead',
      effect: 'energise',
      waitsFor: ['prepare.adapter.b1', 'cold.voltage'],
      acts: [{ do: 'connect-source', source: 'adapter:b1', board: 'b1' }],
    }),
    aStep('power.interim', {
      stage: 'power-up',
      needs: 'dead',
      repeatable: true,
      effect: 'energise',
      waitsFor: ['prepare.adapter.b1'],
      acts: [{ do: 'connect-source', source: 'adapter:b1', board: 'b1' }],
    }),
    aStep('power.battery.b1', {
      stage: 'power-up',
      needs: 'energised',
      waitsFor: ['prepare.adapter.b1'],
      acts: [{ do: 'connect-source', source: 'board-battery:b1', board: 'b1' }],
    }),
    aStep('walk.shutter', { stage: 'walk-test', needs: 'energised', hard: false, waitsFor: ['rewire.z1'] }),
    aStep('centre.end', { stage: 'handover', hard: false, waitsFor: ['power.battery.b1'] }),
    aStep('handover.card', { stage: 'handover', hard: false, waitsFor: ['power.battery.b1'] }),
    aStep('impairment.restore', {
      stage: 'handover',
      waitsFor: ['centre.end'],
      onlyIf: [{ step: 'life-safety.decision', options: ['impairment'] }],
    }),
    ...STOP_STEPS.filter(({ id }) => id === 'stop.voltage'),
  ],
};
