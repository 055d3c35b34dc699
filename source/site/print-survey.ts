import type { QuantityKind } from '../electrical/quantity.ts';
import type { Written } from './document.ts';
import { printWritten } from './print-written.ts';
import type { Cable, Detector, Loop, Sounder, Survey, Zone } from './survey.ts';
import { writeConductor, writeQuantity } from './write-quantity.ts';

/** Fields on their way to the file; those that are `undefined` are left out. */
type Fields = { readonly [key: string]: Written | undefined };

/**
 * Prints a survey as a file that reads like a hand-written one. What was only assumed is left out, so that
 * reading it again gives the same survey, assumptions and all.
 */
export function printSurvey(survey: Survey): string {
  return printWritten(surveyFields(survey));
}

/** The fields of a survey as they stand in its file. */
function surveyFields(survey: Survey): Written {
  const assumed = new Set(survey.assumed.map(({ about, field }) => `${about} ${field}`));
  const unless = (about: string, field: string, value: Written | undefined) =>
    assumed.has(`${about} ${field}`) ? undefined : value;
  const { conditions, policy, panel, network } = survey;
  return present({
    format: 'loopward/survey@1',
    site: present({
      name: survey.site.name === 'Unnamed site' ? undefined : survey.site.name,
      reference: filled(survey.site.reference),
      address: survey.site.address,
      contact: survey.site.contact,
    }),
    conditions: present({
      cableTemperature: unless('conditions', 'cableTemperature', celsius(conditions.cableCelsius)),
      batteryTemperature: unless('conditions', 'batteryTemperature', celsius(conditions.batteryCelsius)),
    }),
    policy: present({
      holdUp: hours(policy.holdUpHours),
      alarm: hours(policy.alarmHours),
      batteryMargin: writeQuantity(policy.batteryMargin, 'fraction'),
      interruption: writeQuantity(policy.interruptionSeconds, 'seconds'),
    }),
    outside: survey.outside,
    panel: present({
      feedVoltage: figure(panel.feedVolts, 'volts'),
      enclosure: known(panel.enclosure),
      earthed: known(panel.earthed),
      batteries: listed(
        panel.batteries.map((battery) =>
          present({
            capacity: figure(battery.capacityAmpHours, 'ampHours') ?? 'unknown',
            chemistry: known(battery.chemistry),
            installed: battery.installed ?? undefined,
          }),
        ),
      ),
      slack: figure(panel.slackMetres, 'metres'),
      terminals: listed(
        panel.terminals.flatMap(
          ({ number, role }) => unless('panel', `terminals.${number}`, { number, role }) ?? [],
        ),
      ),
    }),
    supplies: listed(
      survey.supplies.map((supply) =>
        present({
          id: supply.id,
          place: filled(supply.place),
          kind: known(supply.kind),
          battery: supply.battery,
          feeds: listed(supply.feeds),
        }),
      ),
    ),
    outputs: listed(survey.outputs),
    network: present({ kind: known(network.kind), backup: backup(network.backupHours) }),
    zones: listed(survey.zones.map((zone) => zoneFields(zone, unless))),
    mayShare: listed(survey.mayShare),
    tampers: listed(
      survey.tampers.map((tamper) =>
        present({
          id: tamper.id,
          terminals: tamper.terminals,
          through: tamper.through,
          loop: loopFields(tamper.id, tamper.loop, unless),
          keep: tamper.keep,
        }),
      ),
    ),
    detectors: listed(survey.detectors.map((detector) => detectorFields(detector, survey, unless))),
    cables: listed(survey.cables.map((cable) => cableFields(cable, unless))),
    sounders: listed(survey.sounders.map((sounder) => sounderFields(sounder, unless))),
    keypads: listed(survey.keypads),
    boards: listed(survey.boards),
  });
}

type Unless = (about: string, field: string, value: Written | undefined) => Written | undefined;

function zoneFields(zone: Zone, unless: Unless): Written {
  const partly = zone.fieldSets.length > 0 && zone.joined !== 'field' ? zone.fieldSets : zone.joined;
  return present({
    id: zone.id,
    name: zone.name === zone.id ? undefined : zone.name,
    terminals: zone.terminals,
    loop: loopFields(zone.id, zone.loop, unless),
    joined: zone.joined === 'single' ? undefined : partly,
    detectors: zone.detectors,
  });
}

function loopFields(about: string, loop: Loop, unless: Unless): Written {
  const at = loop.resistorAt;
  const place =
    typeof at !== 'object' || at === null
      ? (at ?? undefined)
      : present({ detector: at.detector, by: at.by === 'unknown' ? undefined : at.by });
  const isGuess = unless(about, 'loop.resistorAt', 'known') === undefined;
  return present({
    style: loop.style,
    resistor: ohms(unless(about, 'loop.resistor', 'known'), loop.resistorOhms),
    alarmResistor: ohms(unless(about, 'loop.alarmResistor', 'known'), loop.alarmResistorOhms),
    resistorAt: isGuess && typeof at === 'object' ? 'detector' : isGuess ? undefined : place,
    bridges: entries(loop.bridges, (value) => writeQuantity(value, 'ohms')),
  });
}

function ohms(isKnown: Written | undefined, value: number | 'unknown' | null): string | undefined {
  if (isKnown === undefined) return 'unknown';
  return typeof value !== 'number' ? undefined : writeQuantity(value, 'ohms');
}

function detectorFields(detector: Detector, survey: Survey, unless: Unless): Written {
  const { id, supply, pulse } = detector;
  const isFed = survey.cables
    .find((cable) => cable.id === detector.cable)
    ?.cores.some((core) => core.use === 'aux-positive' && (core.for ?? id) === id);
  const figures =
    supply === null || supply === 'from-loop'
      ? undefined
      : present({
          standby: unless(id, 'supply.standby', writeQuantity(supply.standbyAmps, 'amps')),
          alarm: unless(id, 'supply.alarm', writeQuantity(supply.alarmAmps, 'amps')),
          minimum: unless(id, 'supply.minimum', writeQuantity(supply.minimumVolts, 'volts')),
          maximum: unless(id, 'supply.maximum', writeQuantity(supply.maximumVolts, 'volts')),
          warmUp: unless(id, 'supply.warmUp', writeQuantity(supply.warmUpSeconds, 'seconds')),
        });
  const written =
    supply === null
      ? isFed
        ? 'none'
        : undefined
      : supply === 'from-loop'
        ? supply
        : isEmpty(figures ?? {})
          ? 'unknown'
          : figures;
  return present({
    id,
    name: detector.name === id ? undefined : detector.name,
    kind: detector.kind,
    contact: unless(id, 'contact', detector.contact),
    place: unless(id, 'place', detector.place),
    cable: detector.cable,
    importance: detector.importance === 1 ? undefined : String(detector.importance),
    input: detector.input ?? undefined,
    pulse: typeof pulse === 'number' ? writeQuantity(pulse, 'seconds') : usual(pulse, 'none'),
    supply: written,
    control: usual(detector.control, 'none'),
    unpowered: usual(detector.unpowered, 'unknown'),
    tamper: usual(detector.tamper, 'none'),
  });
}

function cableFields(cable: Cable, unless: Unless): Written {
  return present({
    id: cable.id,
    length: cable.lengthKnown === 'unknown' ? 'unknown' : writeQuantity(cable.lengthMetres, 'metres'),
    measured: cable.lengthKnown === 'measured' ? 'yes' : undefined,
    conductor: unless(cable.id, 'conductor', writeConductor(cable.conductor)),
    from: usual(cable.from, 'panel'),
    cores: cable.cores.map((core) =>
      present({
        colour: usual(core.colour, 'unmarked'),
        use: core.use,
        for: core.for ?? undefined,
        at: core.at ?? undefined,
      }),
    ),
  });
}

function sounderFields(sounder: Sounder, unless: Unless): Written {
  const { id } = sounder;
  const side = (amps: number | null) => (amps === null ? 'none' : { current: writeQuantity(amps, 'amps') });
  return present({
    id,
    name: sounder.name === id ? undefined : sounder.name,
    cable: sounder.cable,
    current: figure(sounder.currentAmps, 'amps') ?? 'unknown',
    minimum: unless(id, 'minimum', writeQuantity(sounder.minimumVolts, 'volts')),
    wiring: sounder.wiring,
    ownBattery: sounder.ownBattery,
    trigger: sounder.trigger,
    strobe: unless(id, 'strobe', side(sounder.strobeAmps)),
    holdOff: unless(id, 'holdOff', side(sounder.holdOffAmps)),
  });
}

/** A group of the fields that are there; nothing where none is. */
function present(fields: Fields): Written {
  const kept = Object.entries(fields).filter(
    (entry): entry is [string, Written] => entry[1] !== undefined && !isEmpty(entry[1]),
  );
  return Object.fromEntries(kept);
}

function isEmpty(value: Written): boolean {
  return typeof value === 'object' && !Array.isArray(value) && Object.keys(value).length === 0;
}

const listed = (items: readonly Written[]) => (items.length === 0 ? undefined : items);
const filled = (text: string) => (text === '' ? undefined : text);
const known = (text: string) => usual(text, 'unknown');
const usual = (text: string, left: string) => (text === left ? undefined : text);
const celsius = (value: number) => writeQuantity(value, 'celsius');

function figure(value: number | null, kind: QuantityKind): string | undefined {
  return value === null ? undefined : writeQuantity(value, kind);
}

function hours(value: number): string {
  return writeQuantity(Number((value * 3600).toPrecision(12)), 'seconds');
}

function backup(value: number | 'none' | 'unknown'): string | undefined {
  return typeof value === 'number' ? hours(value) : known(value);
}

function entries<T>(of: Readonly<Record<string, T>>, write: (value: T) => string): Written {
  return Object.fromEntries(Object.entries(of).map(([key, value]) => [key, write(value)]));
}
