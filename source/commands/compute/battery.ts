import {
  BATTERY_CELSIUS,
  chosenAmpHours,
  holdUpHours,
  neededAmpHours,
  requiredAmpHours,
  STANDBY_PRESETS,
  type StandbyPreset,
  TEMPERATURE_RANGE,
  temperatureFactor,
} from '../../electrical/battery.ts';
import { contains } from '../../electrical/interval.ts';
import { isOver } from '../../electrical/limit.ts';
import { formatQuantity } from '../../electrical/quantity.ts';
import { Ending } from '../exit.ts';
import { type Answer, figure, type Working } from './answer.ts';
import type { Inputs } from './inputs.ts';

const SUM_SOURCE =
  'the standby-plus-alarm sum of NFPA 72 and NFPA 731; the margin is the edition’s: 20 % or 25 %';
const PEUKERT_SOURCE = "Peukert's law in its hour-rate form; 1.15 is the cautious end for sealed lead-acid";

/** The capacity that carries a site through a mains failure, and the battery to buy. */
export function computeBattery(inputs: Inputs): Answer {
  const preset = readPreset(inputs);
  const hours = (option: string, unit: string, otherwise: number | undefined) =>
    otherwise === undefined
      ? inputs.quantity(option, 'seconds', unit) / 3600
      : inputs.quantityOr(option, 'seconds', otherwise * 3600, unit) / 3600;
  const standbyAmps = inputs.quantity('standby', 'amps');
  const holdUp = hours('hold-up', 'h', preset?.holdUpHours);
  const alarmAmps = inputs.quantity('alarm', 'amps');
  const alarmHours = hours('alarm-time', 'min', preset?.alarmHours);
  const margin = inputs.quantityOr('margin', 'fraction', preset?.margin ?? 0);
  const temperature = readTemperature(inputs);
  const asked = { standbyAmps, holdUpHours: holdUp, alarmAmps, alarmHours, margin, ...temperature };
  const sum = requiredAmpHours(asked);
  const need = neededAmpHours(asked);
  const isFast = isOver(need, sum);
  const chosen = chosenAmpHours(need);
  const factor = temperature.celsius === undefined ? 1 : temperatureFactor(temperature.celsius);
  return {
    says: `${formatQuantity(sum, 'ampHours', { digits: 4 })} is needed${isFast ? `, and ${formatQuantity(need, 'ampHours', { digits: 4 })} to last at such a current` : ''}: take ${formatQuantity(chosen, 'ampHours')}.`,
    working: [
      {
        formula: 'C = (I standby · t + I alarm · t alarm) · (1 + margin) · temperature factor',
        figures: `= (${figure(standbyAmps)} A · ${figure(holdUp)} h + ${figure(alarmAmps)} A · ${figure(alarmHours)} h) · ${figure(1 + margin)} · ${figure(factor)} = ${figure(sum, 5)} Ah`,
        source: preset?.source ?? SUM_SOURCE,
      },
      ...(isFast
        ? [
            {
              formula:
                't standby / t of the battery at I standby + t alarm / t at I alarm = 1, t = 20 h · (C / (20 h · I))^1.15',
              figures: `drawn so fast it gives less: C = ${figure(need, 5)} Ah lasts that long`,
              source: PEUKERT_SOURCE,
            },
          ]
        : []),
      ...temperatureWorking(temperature.celsius),
      {
        formula: 'the next standard size up',
        figures: `${figure(need, 5)} Ah → ${chosen} Ah`,
        source: '12 V sealed lead-acid sizes of the trade',
      },
    ],
    json: { requiredAmpHours: sum, ...(isFast && { lastingAmpHours: need }), chosenAmpHours: chosen },
  };
}

/** How long a battery carries a current. */
export function computeHoldUp(inputs: Inputs): Answer {
  const capacityAmpHours = inputs.quantity('capacity', 'ampHours');
  const amps = inputs.quantity('current', 'amps');
  if (capacityAmpHours === 0 || amps === 0) {
    throw new Ending(
      'usage',
      '--capacity and --current must be above zero. Give what the battery has and what is drawn.',
    );
  }
  const temperature = readTemperature(inputs);
  const hours = holdUpHours({ capacityAmpHours, amps, ...temperature });
  const isSlow = amps <= capacityAmpHours / 20;
  const c = figure(capacityAmpHours);
  const i = figure(amps);
  return {
    says: `${formatQuantity(capacityAmpHours, 'ampHours')} carries ${formatQuantity(amps, 'amps')} for ${formatQuantity(hours * 3600, 'seconds')}.`,
    working: [
      isSlow
        ? {
            formula: 't = C / I, at or below the 20-hour rate (no bonus below it)',
            figures: `= ${c} Ah / ${i} A = ${figure(capacityAmpHours / amps)} h`,
            source: 'capacity is stated at the 20-hour rate (JIS C 8702-1)',
          }
        : {
            formula: 't = 20 h · (C / (20 h · I))^1.15',
            figures: `= 20 h · (${c} Ah / (20 h · ${i} A))^1.15 = ${figure(holdUpHours({ capacityAmpHours, amps }))} h`,
            source: PEUKERT_SOURCE,
          },
      ...temperatureWorking(temperature.celsius),
    ],
    json: { hours },
  };
}

/** A named policy stands in for the times and the margin that are not given. */
function readPreset(inputs: Inputs): StandbyPreset | undefined {
  const id = inputs.text('preset');
  if (id === undefined) return undefined;
  const preset = STANDBY_PRESETS.find((one) => one.id === id);
  if (preset) return preset;
  const ids = STANDBY_PRESETS.map((one) => one.id).join(', ');
  throw new Ending('usage', `--preset: there is no policy "${id}". Choose one of ${ids}.`);
}

function readTemperature(inputs: Inputs): { celsius?: number } {
  const celsius = inputs.maybe('temperature', 'celsius');
  if (celsius === undefined) return {};
  if (!contains(BATTERY_CELSIUS, celsius)) {
    throw new Ending(
      'usage',
      `--temperature: batteries are reckoned from ${BATTERY_CELSIUS.min} to ${BATTERY_CELSIUS.max} °C. Give a temperature within it.`,
    );
  }
  return { celsius };
}

function temperatureWorking(celsius: number | undefined): Working[] {
  if (celsius === undefined) return [];
  return [
    {
      formula: 'temperature factor of lead-acid against 25 °C',
      figures: `at ${formatQuantity(celsius, 'celsius')}: ${figure(temperatureFactor(celsius))}`,
      source: contains(TEMPERATURE_RANGE, celsius)
        ? 'IEEE 485 Table 1, linear between rows'
        : `IEEE 485 Table 1 ends at ${TEMPERATURE_RANGE.min} and ${TEMPERATURE_RANGE.max} °C: below it its first slope is carried on, above it the last factor stays`,
    },
  ];
}
