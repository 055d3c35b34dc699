import type { Finding } from '../plan.ts';
import { type Facts, finding } from './facts.ts';
import { listed } from './words.ts';

/** Loops that come back over a core which carries something else as well. */
export function returnFindings(facts: Facts): Finding[] {
  return [...returns(facts), ...powerReturns(facts)];
}

/** Circuits with one return core belong on one common. */
function returns({ placement, endsOf, circuits }: Facts): Finding[] {
  const riseOf = new Map(
    circuits.map((one) => [`${one.board}/${one.input}`, Math.max(0, ...Object.values(one.returnRiseVolts))]),
  );
  const riseAt = (inputs: ReadonlySet<string>) =>
    Math.max(0, ...[...inputs].map((input) => riseOf.get(input) ?? 0));
  const users = new Map<string, Set<string>>();
  const commons = new Map<string, Set<string>>();
  for (const { group, board, input } of placement.placed)
    for (const unit of group.units)
      for (const { id, use } of [...endsOf(unit).in, ...endsOf(unit).out]) {
        if (use !== 'common') continue;
        users.set(id, (users.get(id) ?? new Set()).add(`${board.id}/${input.id}`));
        commons.set(id, (commons.get(id) ?? new Set()).add(`${board.id} ${input.common}`));
      }
  return [...users]
    .filter(([, inputs]) => inputs.size > 1)
    .map(([core, inputs]) => {
      const apart = commons.get(core)!.size > 1;
      return finding(
        'shared-return',
        apart ? 'caution' : 'note',
        [core, ...inputs],
        apart
          ? `Inputs ${listed([...inputs])} share the return ${core} but lie on different commons (${listed([...commons.get(core)!])}).`
          : `Inputs ${listed([...inputs])} share the return ${core} and so lie on one common.`,
        apart
          ? 'Link those commons, if the maker allows it; what one circuit draws lifts the others a little.'
          : 'Keep them there: on another common the return would be missing.',
        { inputs: inputs.size, riseVolts: riseAt(inputs) },
      );
    });
}

/** A loop that comes back over the negative of what it watches: that conductor carries its current as well. */
function powerReturns({ placement, endsOf, feeds }: Facts): Finding[] {
  return placement.placed.flatMap(({ group, board, input }) =>
    group.units.flatMap((unit) =>
      [...endsOf(unit).in, ...endsOf(unit).out].flatMap(({ id, use, for: device }) => {
        if (use !== 'sounder-negative' && use !== 'aux-negative') return [];
        const feed = feeds.find((one) =>
          [...one.sounders, ...one.detectors].some((served) => served.id === device),
        );
        const apart = feed !== undefined && feed.board.id !== board.id;
        return finding(
          'shared-return',
          'caution',
          [id, `${board.id}/${input.id}`],
          `The loop ${unit.zone} comes back over ${id}, the negative of ${device ?? 'a device'}, and so that lands on ${input.common} of ${board.id}.`,
          apart
            ? `Join the negatives of ${board.id} and ${feed.board.id}, which feeds it: without that it has no return.`
            : `See by the maker's drawing or a meter that ${input.common} is one with ${board.aux.negative} there, else link them: its current comes back that way.`,
        );
      }),
    ),
  );
}
