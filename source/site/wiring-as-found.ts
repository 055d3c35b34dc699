import type { NodeId, Wiring } from '../wiring/wiring.ts';
import { type Circuit, devicesOf, tamperCircuits, zoneCircuits } from './circuits.ts';
import { Harness } from './harness.ts';
import { layDevices } from './lay-devices.ts';
import { type Laying, layField, liesAcrossLoop } from './lay-field.ts';
import { findPairs, groupBy } from './pairs.ts';
import { type PanelSide, panelSide, type Run, Screws } from './runs.ts';
import type { Survey } from './survey.ts';
import { contactWorth } from './worth.ts';

/**
 * The wiring as the survey describes it, before anything is touched: every conductor of every cable once,
 * with both of its ends, and what is fitted between them. A resistor at the panel in series sits between the
 * first terminal's screw and the first conductor; one whose place nobody knows is drawn there too, with the
 * place null. Contacts across a loop sit on its two screws.
 *
 * @param survey as read from a file: its cores are known to make up its loops
 */
export function wiringAsFound(survey: Survey): Wiring {
  const harness = new Harness(survey);
  layDevices(survey, harness);
  const devices = devicesOf(survey);
  const detectors = new Map(survey.detectors.map((detector) => [detector.id, detector]));
  const cableOf = new Map(devices.map((device) => [device.id, device.cable]));
  for (const circuits of [zoneCircuits(survey), tamperCircuits(survey)]) {
    const { pairs } = findPairs(survey.cables, devices, circuits);
    const screws = new Screws(survey, pairs, circuits);
    const circuitOf = new Map(
      circuits.flatMap(({ members, id }) => members.map((member) => [member, id] as const)),
    );
    const pairsOf = groupBy(pairs, (pair) => circuitOf.get(pair.detectors[0]!)!);
    for (const circuit of circuits) {
      const own = pairsOf.get(circuit.id) ?? [];
      layCircuit({ circuit, pairs: own, detectors, cableOf, harness }, screws);
    }
  }
  return harness.finish();
}

function layCircuit(laying: Laying, screws: Screws): void {
  const { circuit, pairs, harness } = laying;
  const atPanel = pairs.filter((pair) => harness.cable(pair.cable).from === 'panel');
  const side = panelSide(circuit, atPanel, screws, (id) => (liesAcrossLoop(laying, id) ? 'across' : 'in'));
  const [first, second] = circuit.terminals;
  harness.loops[circuit.id] = [`old:${first}`, `old:${second}`];
  const resistor = panelResistor(circuit);
  if (side.inSeries.length > 0) layInSeries(laying, side, resistor);
  else if (resistor !== null) harness.resistors.push({ ...resistor, a: `old:${first}`, b: `old:${second}` });
  for (const run of side.inParallel) {
    harness.setNear(run.pair.cable, run.out, `old:${first}`, first);
    harness.setNear(run.pair.cable, run.back, `old:${second}`, second);
    layField(laying, run);
  }
}

function panelResistor({ id, loop }: Circuit) {
  if (loop.resistorAt === null || typeof loop.resistorAt === 'object') return null;
  return {
    id: `${id}.end-of-line`,
    zone: id,
    ohms: loop.resistorOhms ?? 'unknown',
    role: 'end-of-line',
    place: loop.resistorAt === 'panel' ? 'panel' : null,
    by: 'part',
  } as const;
}

type PanelPart = Run | 'lid' | 'resistor';

/** From the first screw to the second: resistor, cables and the lid's switch, with a joint between each two. */
function layInSeries(laying: Laying, side: PanelSide, resistor: ReturnType<typeof panelResistor>): void {
  const { circuit, harness } = laying;
  const parts = partsInOrder(side.inSeries, resistor !== null);
  const [first, second] = circuit.terminals;
  const firstCable = parts.findIndex((part) => typeof part === 'object');
  const lastCable = parts.findLastIndex((part) => typeof part === 'object');
  // Joint 0 is the one behind a resistor at the first screw; splices between cables count from 1.
  const joint = (after: number): NodeId =>
    `join:${circuit.id}.${parts[0] === 'resistor' ? after : after + 1}`;
  parts.forEach((part, index) => {
    const a = index === 0 ? (`old:${first}` as const) : joint(index - 1);
    const b = index === parts.length - 1 ? (`old:${second}` as const) : joint(index);
    if (part === 'resistor') harness.resistors.push({ ...resistor!, a, b });
    else if (part === 'lid') {
      const contact = {
        detector: 'lid',
        zone: circuit.id,
        purpose: 'tamper',
        sense: 'normally-closed',
        ...contactWorth(undefined, 'tamper'),
      } as const;
      harness.contacts.push({ ...contact, a, b });
    } else {
      harness.setNear(part.pair.cable, part.out, a, index === firstCable ? first : null);
      harness.setNear(part.pair.cable, part.back, b, index === lastCable ? second : null);
      layField(laying, part);
    }
  });
}

/** A resistor at the panel comes first, unless a return that other loops share sits under the first screw. */
function partsInOrder(inSeries: PanelSide['inSeries'], hasResistor: boolean): PanelPart[] {
  const [start] = inSeries;
  const sharedFirst = typeof start === 'object' && start.pair.isShared && start.out === start.pair.second;
  if (!hasResistor) return [...inSeries];
  return sharedFirst ? [...inSeries, 'resistor'] : ['resistor', ...inSeries];
}
