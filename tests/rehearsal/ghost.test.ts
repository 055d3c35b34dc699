import { expect, test } from 'vitest';
import { judgeProof } from '../../source/procedure/judge.ts';
import { deadSweeps } from '../../source/procedure/voltage.ts';
import { inducedOn } from '../../source/rehearsal/building/draw-building.ts';
import { answerProof } from '../../source/rehearsal/technician/answer.ts';
import { enterBuilding } from '../../source/rehearsal/technician/visit.ts';
import { demoScene } from './demo-scene.ts';

// 29 CFR 1910.333(b)(2)(iv)(B): induced voltage and unrelated backfeed are both looked for. On the first build the point that
// showed most was read again alone, so an induced 34 V hid a real 12 V beside it.
test('an induced voltage does not hide a smaller real one', () => {
  const visit = enterBuilding(demoScene(), 7, []);
  const [ghost, real] = new Set([...visit.building.wires.values()].map(({ near }) => near));
  if (ghost === undefined || real === undefined) throw new Error('the demo has wires');
  const sources = new Map([
    ['ghost', inducedOn(ghost, 34, 2e6)],
    ['real', { ...inducedOn(real, 12, 5), name: 'real', induced: false }],
  ]);
  visit.building = { ...visit.building, sources };
  const { ac } = deadSweeps([ghost, real], 'earth');
  const values: Record<string, ReturnType<typeof answerProof>> = {};
  for (const proof of ac) values[proof.field] = answerProof(visit, 'supply.prove', proof, values);
  expect(values.ac).toMatchObject({ at: ghost });
  expect(judgeProof({ proof: ac }, values)).toMatchObject({ verdict: 'failed' });
});
