import { type Assume, known, STAND_IN } from './assume.ts';
import type { Cable, Detector, Loop, Sounder } from './survey.ts';
import type { SurveyFile } from './survey-file.ts';

/** A detector as written, with what was left out assumed and said so. */
export function toDetector(
  detector: SurveyFile['detectors'][number],
  file: SurveyFile,
  styleOf: ReadonlyMap<string, Loop['style']>,
  assume: Assume,
): Detector {
  const { id, kind, contact } = detector;
  const usual = styleOf.get(id) === 'across' ? 'normally-open' : 'normally-closed';
  const inside = ['movement', 'flood', 'temperature', 'technical', 'smoke', 'heat'].includes(kind);
  return {
    id,
    name: detector.name ?? id,
    kind,
    contact: contact === 'unknown' ? 'unknown' : assume(id, 'contact', contact, usual),
    place: assume(id, 'place', detector.place, inside ? 'interior' : 'perimeter'),
    cable: detector.cable,
    importance: detector.importance ?? 1,
    input: detector.input ?? null,
    pulse: detector.pulse ?? 'none',
    supply: toSupply(detector, file, assume),
    control: detector.control ?? 'none',
    unpowered: detector.unpowered ?? 'unknown',
    tamper: detector.tamper ?? 'none',
  };
}

function toSupply(
  detector: SurveyFile['detectors'][number],
  file: SurveyFile,
  assume: Assume,
): Detector['supply'] {
  const { id } = detector;
  const cores = file.cables.find((cable) => cable.id === detector.cable)?.cores ?? [];
  const isFed = cores.some((core) => core.use === 'aux-positive' && (core.for ?? id) === id);
  const written = detector.supply ?? (isFed ? 'unknown' : 'none');
  if (written === 'none') return null;
  if (written === 'from-loop') return written;
  const supply = written === 'unknown' ? {} : written;
  const standbyAmps = assume(id, 'supply.standby', supply.standby, STAND_IN.standbyAmps);
  return {
    standbyAmps,
    alarmAmps: assume(id, 'supply.alarm', supply.alarm, Math.max(standbyAmps, STAND_IN.alarmAmps)),
    minimumVolts: assume(id, 'supply.minimum', supply.minimum, STAND_IN.minimumVolts),
    maximumVolts: assume(id, 'supply.maximum', supply.maximum, STAND_IN.maximumVolts),
    warmUpSeconds: assume(id, 'supply.warmUp', supply.warmUp, STAND_IN.warmUpSeconds),
  };
}

/** A cable as written, with what was left out assumed and said so. Length in m. */
export function toCable(cable: SurveyFile['cables'][number], assume: Assume): Cable {
  const isMeasured = cable.measured === 'yes' || cable.measured === 'true';
  const isLengthKnown = typeof cable.length === 'number';
  return {
    id: cable.id,
    lengthMetres: assume(cable.id, 'length', cable.length, STAND_IN.lengthMetres),
    lengthKnown: !isLengthKnown ? 'unknown' : isMeasured ? 'measured' : 'estimated',
    conductor: assume(cable.id, 'conductor', cable.conductor, STAND_IN.conductor),
    conductorKnown: typeof cable.conductor === 'object',
    from: cable.from ?? 'panel',
    cores: cable.cores.map((core) => ({
      colour: core.colour ?? 'unmarked',
      use: core.use,
      for: core.for ?? null,
      at: core.at ?? null,
    })),
  };
}

/** A sounder as written, with what was left out assumed and said so. Currents in A. */
export function toSounder(sounder: SurveyFile['sounders'][number], assume: Assume): Sounder {
  const side = (field: 'strobe' | 'holdOff') => {
    const written = sounder[field];
    if (written === 'none') return null;
    return typeof written === 'object' ? written.current : assume(sounder.id, field, undefined, null);
  };
  return {
    id: sounder.id,
    name: sounder.name ?? sounder.id,
    cable: sounder.cable,
    currentAmps: known(sounder.current),
    minimumVolts: assume(sounder.id, 'minimum', sounder.minimum, STAND_IN.sounderVolts),
    wiring: sounder.wiring ?? 'unknown',
    ownBattery: sounder.ownBattery ?? 'unknown',
    trigger: sounder.trigger ?? 'unknown',
    strobeAmps: side('strobe'),
    holdOffAmps: side('holdOff'),
  };
}
