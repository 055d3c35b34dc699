import type { Plan } from '../../source/plan/plan.ts';
import type { Board } from '../../source/site/board.ts';
import type { Change } from '../../source/site/correct-survey.ts';
import { Chance } from '../chance.ts';
import { planOfShed } from './quiet-site.ts';

type Fields = Record<string, unknown>;
const set = (path: string, value: unknown) => ({ path, value }) as Change;

const CONDUCTORS = ['22 AWG', '24 AWG', '18 AWG', '0.22 mm2', '7/0.25', '0.5 mm2', '0.75 mm2'];

/** The shed with two to six sounders on chains of cable, detectors on a chain, now and then an old run as lead. */
export function chainedSite(seed: number): Plan {
  const chance = new Chance(seed);
  const cable = (id: string, from: string | null, cores: readonly Fields[]) =>
    set(`cables.${id}`, {
      id,
      ...(from === null ? {} : { from }),
      length: `${chance.from(2, 60)} m`,
      ...(chance.is(0.5) ? { measured: 'yes' } : {}),
      conductor: chance.pick(...CONDUCTORS),
      cores: cores.map((core, at) => ({ colour: `core ${at + 1}`, ...core })),
    });
  const changes: Change[] = [set('conditions.cableTemperature', `${chance.from(-5, 40)} °C`)];
  changes.push(set('sounders', []), set('cables.c4', null));
  const sounders: Fields[] = [];
  const runs: string[] = [];
  const count = chance.from(2, 6);
  for (let at = 1; at <= count; at++) {
    const from = runs.length > 0 && chance.is(0.75) ? chance.pick(...runs) : null;
    const id = `h${at}`;
    // A cable with a strobe's core of its own ends at its sounder; a bare run only goes on.
    const isBare = from === null && chance.is(0.2);
    const hasStrobe = !isBare && from === null && chance.is(0.3);
    const doubled = chance.is(0.25) ? [{ use: 'doubled' }] : [];
    changes.push(
      cable(id, from, [
        { use: 'sounder-positive' },
        ...doubled,
        { use: 'sounder-negative' },
        ...(hasStrobe ? [{ use: 'strobe', at: '10' }] : []),
      ]),
    );
    if (!hasStrobe) runs.push(id);
    if (isBare && at < count) continue;
    sounders.push({
      id: `s${at}`,
      cable: id,
      current: `${chance.from(2, 50) * 10} mA`,
      minimum: '9 V',
      wiring: 'two-wire',
      ownBattery: 'no',
      trigger: 'supply',
      strobe: hasStrobe || chance.is(0.2) ? { current: `${chance.from(2, 20) * 10} mA` } : 'none',
      holdOff: 'none',
    });
  }
  changes.push(set('sounders', sounders));
  const detectors = chance.from(1, 4);
  for (let at = 1; at <= detectors; at++) {
    const pair = ['loop', 'loop', 'aux-positive', 'aux-negative'].map((use) => ({ use }));
    changes.push(cable(`p${at}`, at === 1 ? 'c3' : chance.pick('c3', `p${at - 1}`), pair));
    changes.push(
      set(`detectors.m${at}`, {
        id: `m${at}`,
        kind: 'movement',
        contact: 'normally-closed',
        place: 'interior',
        cable: `p${at}`,
        supply: {
          standby: '15 mA',
          alarm: `${chance.from(15, 60)} mA`,
          minimum: '9 V',
          maximum: '16 V',
          warmUp: '1 min',
        },
      }),
    );
  }
  const joined = Array.from({ length: detectors }, (_, at) => `m${at + 1}`);
  changes.push(set('zones.z2.joined', 'field'), set('zones.z2.detectors', ['crew', ...joined]));
  const hasLead = chance.is(0.3);
  if (hasLead) changes.push(cable('lead', null, [{ use: 'other' }, { use: 'other' }]));
  const board = (quiet: Board): Board => ({
    ...quiet,
    adapter: { ...quiet.adapter, lead: hasLead ? 'lead' : null },
    battery: chance.is(0.2) ? null : quiet.battery,
  });
  return planOfShed({ changes, board });
}
