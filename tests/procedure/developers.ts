import { GUARDS } from '../../source/procedure/guards.ts';
import { jobMachine } from '../../source/procedure/machine.ts';
import { SMALL } from './small-procedure.ts';

/** Each gate beside the published rule behind it, as a table for the developers' document. */
export function gatesTable(): string {
  const rows = GUARDS.map((guard) => `| \`${guard.code}\` | ${guard.on.join(', ')} | ${guard.rule} |`);
  return ['| gate | shuts | published rule behind it |', '| --- | --- | --- |', ...rows].join('\n');
}

type Node = ReturnType<typeof jobMachine>['root'];
type Drawn = { readonly from: string; readonly to: string; readonly label: string };

/** The statechart as Mermaid text, read off the machine itself: its regions, states and every edge with a target. */
export function statechart(): string {
  const machine = jobMachine(SMALL);
  const regions = Object.values(machine.root.states) as unknown as Node[];
  const drawn = regions.map((region) => {
    const states = Object.values(region.states) as unknown as Node[];
    const first = Object.keys(region.states).find((key) => region.initial.target[0]?.key === key) ?? '';
    const edges = states.flatMap((state) => edgesOf(state));
    const lines = [`    [*] --> ${first}`, ...merged(edges).map((edge) => `    ${edge}`)];
    const still = states.filter(
      (state) => !edges.some((edge) => edge.from === state.key || edge.to === state.key),
    );
    return [
      `  state "${region.key}" as ${region.key}_region {`,
      ...still.map((state) => `    ${state.key}`),
      ...lines,
      '  }',
    ].join('\n');
  });
  return ['```mermaid', 'stateDiagram-v2', ...drawn, '```'].join('\n');
}

function edgesOf(state: Node): Drawn[] {
  return [...state.transitions.entries()].flatMap(([event, transitions]) =>
    transitions.flatMap((transition) =>
      (transition.target ?? []).map((target) => ({
        from: state.key,
        to: target.key,
        label: [event, causeOf(transition.guard)].filter((part) => part !== '').join(': '),
      })),
    ),
  );
}

/** Why an edge is taken: the cause handed to the guard that asks for one. */
function causeOf(guard: unknown): string {
  const parts = (guard as { guards?: unknown[] } | undefined)?.guards ?? [];
  const means = parts.find((part) => (part as { type?: string }).type === 'means');
  const cause = (means as { params?: { cause?: string } } | undefined)?.params?.cause ?? '';
  return cause === 'always' ? '' : cause;
}

/** One line for all edges between the same two states. */
function merged(edges: readonly Drawn[]): string[] {
  const lines = new Map<string, Set<string>>();
  for (const { from, to, label } of edges) {
    const key = `${from} --> ${to}`;
    lines.set(key, (lines.get(key) ?? new Set()).add(label));
  }
  return [...lines].map(([key, labels]) => `${key}: ${[...labels].join(' / ')}`);
}

/** The text with what stands between its markers put in anew. */
export function withSection(text: string, name: string, section: string): string {
  const [start, end] = [`<!-- ${name}:start -->`, `<!-- ${name}:end -->`];
  const [from, to] = [text.indexOf(start), text.indexOf(end)];
  if (from < 0 || to < from) throw new Error(`DEVELOPERS.md has no ${start} ... ${end}.`);
  return `${text.slice(0, from + start.length)}\n${section}\n${text.slice(to)}`;
}
