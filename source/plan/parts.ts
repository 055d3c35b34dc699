import type { Circuit, Connection, Plan, TerminalUse, ZonePlan } from './plan.ts';

/** What to bring, counted from the connections. */
export function computeParts(
  connections: readonly Connection[],
  terminals: readonly TerminalUse[],
  circuits: readonly Circuit[],
  _zones: readonly ZonePlan[],
): Plan['parts'] {
  const by = (how: Connection['by']) => connections.filter((connection) => connection.by === how);
  const joints = new Set(by('splice').flatMap(({ to }) => ('joint' in to ? [to.joint] : [])));
  const at = (remedy: TerminalUse['remedy']) =>
    terminals.filter((terminal) => terminal.remedy === remedy).length;
  const counted: [string, number][] = [
    ['wire label', connections.filter(({ by }) => by !== 'untouched').length],
    ['splice', joints.size + at('pigtail') + by('extension').length],
    ['pigtail', at('pigtail') + at('block')],
    ['distribution block', at('block')],
    ['extension lead', by('extension').length],
    ['insulating cap', by('parked').length],
  ];
  const resistors = new Map<string, number>();
  for (const { resistor } of circuits)
    if (resistor.newOhms !== null) {
      const item = `resistor ${resistor.newOhms} ohm`;
      resistors.set(item, (resistors.get(item) ?? 0) + 1);
    }
  return [...counted, ...resistors]
    .filter(([, count]) => count > 0)
    .map(([item, count]) => ({ item, count }));
}
