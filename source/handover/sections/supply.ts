import { formatQuantity } from '../../electrical/quantity-words.ts';
import { readingWords } from '../answer-words.ts';
import type { Block, Cell, Section } from '../document.ts';
import { supplyRuns } from '../drawing/supply-run.ts';
import { table } from './first.ts';
import type { HandoverSource } from './source.ts';

const amps = (value: number) => formatQuantity(value, 'amps');
const volts = (value: number) => formatQuantity(value, 'volts');
const ampHours = (value: number) => formatQuantity(value, 'ampHours');

/** Supply figures as computed, and beside them what was measured. */
export function supplySection(source: HandoverSource): Section {
  const blocks = source.plan.supply.flatMap((supply): Block[] => [
    {
      kind: 'facts',
      facts: [
        { name: `${supply.board}: standby`, value: `${amps(supply.standbyAmps)} computed` },
        { name: 'in alarm', value: `${amps(supply.alarmAmps)} computed, limit ${amps(supply.limitAmps)}` },
        { name: 'aux in alarm', value: `${amps(supply.auxAmps)} computed` },
        { name: 'sounder', value: `${amps(supply.sounderAmps)} computed` },
        ...(supply.battery === null
          ? [{ name: 'battery', value: 'none' }]
          : [
              {
                name: 'battery',
                value: `${ampHours(supply.battery.chosenAmpHours)} chosen, ${ampHours(supply.battery.requiredAmpHours)} required`,
              },
              {
                name: 'hold-up',
                value: `${formatQuantity(supply.battery.holdUpHours * 3600, 'seconds')} computed`,
              },
              {
                name: 'recharge',
                value: `${formatQuantity(supply.battery.rechargeHours * 3600, 'seconds')} computed`,
              },
            ]),
      ],
    },
    ...table(
      `Voltage at each powered detector of ${supply.board}`,
      ['detector', 'minimum', 'battery end', 'mains', 'highest', 'assumed'],
      supply.devices.map((device): Cell[] => [
        source.plan.survey.detectors.find((d) => d.id === device.id)?.name ?? device.id,
        volts(device.minimumVolts),
        volts(device.batteryEndVolts),
        volts(device.mainsVolts),
        volts(device.highestVolts),
        device.assumed.join(', '),
      ]),
    ),
  ]);
  const runs = supplyRuns(source.plan).map((run): Block => ({ kind: 'run', run }));
  return {
    id: 'supply',
    title: 'Supply: computed and measured',
    blocks: [...blocks, ...measured(source), ...runs],
  };
}

function measured({ collected }: HandoverSource): Block[] {
  const rows = collected.entries.flatMap((entry) =>
    entry.answers
      .filter(({ value }) => value.kind === 'reading' && (value.unit === 'V' || value.unit === 'A'))
      .filter(() => entry.stage === 'prepare' || entry.stage === 'power-up' || entry.stage === 'walk-test')
      .map((answer): Cell[] => [
        entry.title,
        answer.label,
        { reading: answer.value, says: readingWords(answer) },
        { records: [entry.n] },
      ]),
  );
  return table('Measured', ['step', 'reading of', 'found', 'record'], rows);
}
