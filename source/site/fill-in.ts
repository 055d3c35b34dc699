import { type Assume, known, STAND_IN } from './assume.ts';
import { toCable, toDetector, toSounder } from './fill-in-devices.ts';
import { rankAmongUse, roleOfUse, standInScrew } from './screws.ts';
import { shownValue } from './shown.ts';
import type {
  Assumed,
  Cable,
  Keypad,
  Loop,
  Panel,
  Survey,
  TamperLoop,
  TerminalRole,
  Zone,
} from './survey.ts';
import { type SurveyFile, USES } from './survey-file.ts';

/** Policy: not facts about the building, so a default here is a choice and not an assumption. */
const POLICY = { holdUpHours: 12, alarmHours: 0.25, batteryMargin: 0.25, interruptionSeconds: 900 } as const;

/** Turns the file's fields into the survey, in SI units, and fills in what is left out. */
export function fillIn(file: SurveyFile): Survey {
  const assumed: Assumed[] = [];
  const assume: Assume = (about, field, written, standIn) => {
    if (written !== undefined && written !== 'unknown') return written;
    assumed.push({ about, field, value: shownValue(field, standIn) });
    return standIn;
  };
  const complete = file.zones.length > 0;
  const zones = file.zones.map((zone) => toZone(zone, assume));
  const styleOf = new Map(
    file.zones.flatMap((zone) => zone.detectors.map((name) => [name, zone.loop.style] as const)),
  );
  const cables = file.cables.map((cable) => toCable(cable, assume));
  const survey = {
    site: {
      name: file.site?.name ?? 'Unnamed site',
      reference: file.site?.reference ?? '',
      ...(file.site?.address === undefined ? {} : { address: file.site.address }),
      ...(file.site?.contact === undefined ? {} : { contact: file.site.contact }),
    },
    conditions: {
      cableCelsius: complete
        ? assume('conditions', 'cableTemperature', file.conditions?.cableTemperature, STAND_IN.celsius)
        : given(file.conditions?.cableTemperature, STAND_IN.celsius),
      batteryCelsius: complete
        ? assume('conditions', 'batteryTemperature', file.conditions?.batteryTemperature, STAND_IN.celsius)
        : given(file.conditions?.batteryTemperature, STAND_IN.celsius),
    },
    policy: {
      holdUpHours: hours(file.policy?.holdUp) ?? POLICY.holdUpHours,
      alarmHours: hours(file.policy?.alarm) ?? POLICY.alarmHours,
      batteryMargin: file.policy?.batteryMargin ?? POLICY.batteryMargin,
      interruptionSeconds: file.policy?.interruption ?? POLICY.interruptionSeconds,
    },
    outside: {
      feed: file.outside?.feed ?? 'unknown',
      signalling: file.outside?.signalling ?? 'unknown',
      monitored: file.outside?.monitored ?? 'unknown',
      set: file.outside?.set ?? 'unknown',
      lifeSafety: file.outside?.lifeSafety ?? 'unknown',
      otherFeeds: file.outside?.otherFeeds ?? 'unknown',
      sounderBattery: file.outside?.sounderBattery ?? 'unknown',
    },
    complete,
    panel: toPanel(file, cables, assume),
    supplies: file.supplies.map((supply) => ({
      id: supply.id,
      place: supply.place ?? '',
      kind: supply.kind ?? 'unknown',
      battery: supply.battery ?? 'unknown',
      feeds: supply.feeds,
    })),
    outputs: file.outputs.map((output) => ({ ...output, voltage: output.voltage ?? 'unknown' })),
    network: { kind: file.network?.kind ?? 'unknown', backupHours: backup(file.network?.backup) },
    zones,
    mayShare: file.mayShare,
    tampers: file.tampers.map((tamper) => toTamper(tamper, assume)),
    detectors: file.detectors.map((detector) => toDetector(detector, file, styleOf, assume)),
    cables,
    sounders: file.sounders.map((sounder) => toSounder(sounder, assume)),
    keypads: file.keypads.map(
      (keypad): Keypad => ({ ...keypad, emergencyKeys: keypad.emergencyKeys ?? 'unknown' }),
    ),
    boards: file.boards.map((board) =>
      typeof board === 'string' ? { id: board, file: `${board}.yaml` } : board,
    ),
    assumed,
  } satisfies Survey;
  return survey;
}

function toPanel(file: SurveyFile, cables: readonly Cable[], assume: Assume): Panel {
  const { panel } = file;
  return {
    feedVolts: known(panel?.feedVoltage),
    enclosure: panel?.enclosure ?? 'unknown',
    earthed: panel?.earthed ?? 'unknown',
    batteries: (panel?.batteries ?? []).map((battery) => ({
      capacityAmpHours: known(battery.capacity),
      chemistry: battery.chemistry ?? 'unknown',
      installed: battery.installed ?? null,
    })),
    slackMetres: known(panel?.slack),
    terminals:
      (panel?.terminals ?? []).length > 0 ? (panel?.terminals ?? []) : terminalsInUse(file, cables, assume),
  };
}

/** Without a list of the panel's screws, those that the survey speaks of stand in for it. */
function terminalsInUse(file: SurveyFile, cables: readonly Cable[], assume: Assume): Panel['terminals'] {
  const found = new Map<string, TerminalRole>();
  const add = (number: string | null, role: TerminalRole) => {
    if (number !== null && !found.has(number)) found.set(number, role);
  };
  for (const loop of [...file.zones, ...file.tampers])
    for (const number of loop.terminals) add(number, 'zone');
  for (const use of USES) {
    for (const { cores, from } of cables) {
      cores.forEach((core, index) => {
        if (core.use !== use || from !== 'panel') return;
        add(core.at ?? standInScrew(use, rankAmongUse(cores, index + 1)), roleOfUse(use) ?? 'unused');
      });
    }
  }
  for (const output of file.outputs) for (const number of output.terminals) add(number, 'output');
  return [...found].map(([number, role]) => ({
    number,
    role: assume('panel', `terminals.${number}`, undefined, role),
  }));
}

function toZone(zone: SurveyFile['zones'][number], assume: Assume): Zone {
  return {
    id: zone.id,
    name: zone.name ?? zone.id,
    terminals: zone.terminals,
    loop: toLoop(zone.id, zone.loop, zone.detectors, assume),
    joined: zone.detectors.length < 2 ? 'single' : 'panel',
    fieldSets: [],
    detectors: zone.detectors,
  };
}

type LoopFile = SurveyFile['zones'][number]['loop'];

function toLoop(about: string, loop: LoopFile, detectors: readonly string[], assume: Assume): Loop {
  const hasResistor = loop.style !== 'plain' && (loop.style !== 'bridged' || loop.resistor !== undefined);
  const hasAlarmResistor = loop.style === 'two-resistor';
  const at = loop.resistorAt ?? 'unknown';
  const last = detectors.at(-1);
  return {
    style: loop.style,
    resistorOhms: hasResistor ? noted(assume, about, 'loop.resistor', loop.resistor) : null,
    alarmResistorOhms: hasAlarmResistor
      ? noted(assume, about, 'loop.alarmResistor', loop.alarmResistor)
      : null,
    resistorAt: !hasResistor
      ? null
      : at === 'detector'
        ? last === undefined
          ? 'unknown'
          : {
              detector: detectors.length === 1 ? last : assume(about, 'loop.resistorAt', undefined, last),
              by: 'unknown',
            }
        : typeof at === 'object'
          ? { detector: at.detector, by: at.by ?? 'unknown' }
          : at === 'unknown'
            ? assume<'unknown'>(about, 'loop.resistorAt', undefined, 'unknown')
            : at,
    bridges: loop.bridges ?? {},
  };
}

/** A resistor that nobody has read stays unknown; that it is so is noted. */
function noted(assume: Assume, about: string, field: string, written: number | 'unknown' | undefined) {
  return written === undefined || written === 'unknown'
    ? assume<'unknown'>(about, field, undefined, 'unknown')
    : written;
}

function toTamper(tamper: SurveyFile['tampers'][number], assume: Assume): TamperLoop {
  return {
    id: tamper.id,
    terminals: tamper.terminals,
    through: tamper.through,
    loop: toLoop(tamper.id, tamper.loop ?? { style: 'plain' }, [], assume),
    keep: tamper.keep ?? 'yes',
  };
}

function given<T>(written: T | 'unknown' | undefined, standIn: T): T {
  return known(written) ?? standIn;
}

const hours = (seconds: number | undefined) => (seconds === undefined ? undefined : seconds / 3600);

function backup(written: number | 'none' | 'unknown' | undefined): Survey['network']['backupHours'] {
  return typeof written === 'number' ? written / 3600 : (written ?? 'unknown');
}
