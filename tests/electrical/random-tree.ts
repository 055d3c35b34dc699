import fc from 'fast-check';
import { awgConductor, type Conductor, cableLoopOhms } from '../../source/electrical/conductor.ts';
import { exactly } from '../../source/electrical/interval.ts';
import type { SupplyBranch } from '../../source/electrical/supply.ts';
import { between } from './draw.ts';

const CONDUCTORS: readonly Conductor[] = [
  ...[16, 18, 20, 22, 24].map(awgConductor),
  { name: '0.22 mm2', areaSquareMillimetres: 0.22, system: 'metric' },
  { name: '0.5 mm2', areaSquareMillimetres: 0.5, system: 'metric' },
];

type Piece = {
  readonly parent: number;
  readonly cable: Conductor;
  readonly metres: number;
  readonly amps: number;
};

/** Trees of up to 40 loads on mixed conductors, daisy chains to depth 8. */
export function randomTree(): fc.Arbitrary<{ sourceVolts: number; branches: readonly SupplyBranch[] }> {
  const piece: fc.Arbitrary<Piece> = fc.record({
    parent: between(0, 1),
    cable: fc.noBias(fc.constantFrom(...CONDUCTORS)),
    metres: between(1, 40),
    amps: between(0.005, 0.12),
  });
  return fc
    .record({
      sourceVolts: between(10, 14),
      pieces: fc.noBias(fc.array(piece, { minLength: 1, maxLength: 40, size: 'max' })),
    })
    .map(({ sourceVolts, pieces }) => ({ sourceVolts, branches: joined(pieces) }));
}

/** Hangs each piece on an earlier one; the later the likelier, so that chains grow, but no deeper than 8. */
function joined(pieces: readonly Piece[]): readonly SupplyBranch[] {
  const branches: (SupplyBranch & { branches: SupplyBranch[] })[] = [];
  const depths: number[] = [];
  const roots: SupplyBranch[] = [];
  pieces.forEach(({ parent, cable, metres, amps }, at) => {
    const branch = {
      id: `b${at}`,
      loopOhms: cableLoopOhms(cable, exactly(metres), 20),
      loads: [{ id: `l${at}`, amps: exactly(amps) }],
      branches: [] as SupplyBranch[],
    };
    branches.push(branch);
    const chosen = Math.floor(Math.sqrt(parent) * (at + 1)) - 1;
    const isRoot = chosen < 0 || chosen >= at || depths[chosen]! >= 8;
    depths.push(isRoot ? 1 : depths[chosen]! + 1);
    (isRoot ? roots : branches[chosen]!.branches).push(branch);
  });
  return roots;
}
