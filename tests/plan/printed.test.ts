import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Plan } from '../../source/plan/plan.ts';
import { planChangeover } from '../../source/plan/plan-changeover.ts';
import { planToText } from '../../source/plan/plan-to-text.ts';
import { auxColdReadings } from '../../source/plan/points/aux-cold.ts';
import { demoPlan } from '../procedure/demo-plan.ts';
import { randomSurvey, shippedBoard } from '../random-survey.ts';
import { scale } from '../scale.ts';
import { planOfShed } from './quiet-site.ts';

const SURVEYS = scale(2000, 0.1);

const sectionOf = (text: string, title: string) => {
  const lines = text.split('\n');
  const from = lines.findIndex((line) => line.startsWith(title.toUpperCase()));
  if (from < 0) return [];
  const next = lines.findIndex((_, at) => at > from + 1 && /^─+$/.test(lines[at + 1] ?? ''));
  return lines.slice(from + 2, next < 0 ? undefined : next);
};
const flat = (lines: readonly string[]) => lines.join(' ').replace(/\s+/g, ' ');

describe(`the printed plan of ${SURVEYS} random sites (seeds from 0)`, () => {
  const printed = Array.from({ length: SURVEYS }, (_, seed) => {
    const { survey, boards } = randomSurvey(seed, { fits: seed % 3 !== 0 });
    const plan = planChangeover(survey, boards);
    return { seed, plan, text: planToText(plan, 80) };
  });
  const each = (check: (plan: Plan, text: string, seed: number) => void) => {
    for (const { seed, plan, text } of printed) check(plan, text, seed);
  };

  test('nothing that says where a wire goes is cut short', () => {
    each((_, text, seed) =>
      expect(sectionOf(text, 'Old panel').join('\n'), `seed ${seed}`).not.toContain('…'),
    );
  });

  test('every conductor that comes to the panel has one line, with where it goes', () => {
    each((plan, text, seed) => {
      const strip = sectionOf(text, 'Old panel');
      for (const { id, atPanel } of plan.wiring.conductors) {
        const lines = strip.filter((line) => new RegExp(`─ (R )?${id} .*> \\S`).test(line));
        expect(lines.length, `seed ${seed} ${id}`).toBe(atPanel ? 1 : 0);
      }
    });
  });

  test('every old screw in use says what becomes of it, with a field wire or without', () => {
    let bare = 0;
    each((plan, text, seed) => {
      const strip = sectionOf(text, 'Old panel');
      for (const { number, role } of plan.survey.panel.terminals) {
        if (role === 'unused') continue;
        const line = strip.find((one) => one.startsWith(`[${number}] `)) ?? '';
        expect(line.slice(`[${number}]`.length).replace(role, '').trim(), `seed ${seed} ${number}`).not.toBe(
          '',
        );
        if (!line.includes('──')) bare++;
      }
    });
    expect(bare).toBeGreaterThan(SURVEYS / 2);
  });

  test('every part says what it is for, as many times as it is counted', () => {
    each((plan, text, seed) => {
      const told = flat(sectionOf(text, 'Parts to bring'));
      const conductors = new Set(plan.connections.map(({ conductor }) => conductor));
      for (const { item, count, for: places } of plan.parts) {
        expect(places.length, `seed ${seed} ${item}`).toBe(count);
        expect(told, `seed ${seed}`).toContain(`${count} x ${item}: `);
        for (const place of places)
          if (place.includes('/') && !place.includes(' ') && item !== 'splice')
            expect(conductors.has(place), `seed ${seed} ${item} ${place}`).toBe(true);
      }
    });
  });

  test('an input that reads so only with supply is marked, and no other', () => {
    let marked = 0;
    each((plan, text, seed) => {
      const rows = sectionOf(text, 'New inputs');
      for (const { board, input, unpowered } of plan.circuits) {
        const row = rows.find((line) => line.startsWith(`${board}/${input} `)) ?? '';
        expect(row.includes(' *'), `seed ${seed} ${board}/${input}: ${row}`).toBe(unpowered !== null);
        if (unpowered !== null) marked++;
      }
    });
    expect(marked).toBeGreaterThan(SURVEYS / 2);
  });

  test('what the board is fed with, and what is read before, stands there for every board', () => {
    each((plan, text, seed) => {
      const strips = flat(sectionOf(text, 'New boards'));
      const cold = flat(sectionOf(text, 'Read before power-up'));
      for (const board of plan.boards) {
        expect(strips, `seed ${seed}`).toContain(`${board.id} supply: its own adapter`);
        expect(strips, `seed ${seed}`).toContain(`${board.id} battery: ${board.battery ? 'a new' : 'none'}`);
        expect(cold, `seed ${seed}`).toContain(`${board.id}: + lead on ${board.aux.positive}`);
        for (const { between } of auxColdReadings(plan, board).beside)
          expect(cold, `seed ${seed}`).toContain(between[1].slice(`${board.id}:`.length));
      }
    });
  });
});

describe('the printed plan of the sailing club', () => {
  const text = planToText(demoPlan(), 80);

  // By Ohm's law from the board's file: 13.7 V / 0.8 A = 17.1, less 1 % of the meter.
  test('the reading across aux, and from aux to the loops beside a supply pair, has its figures', () => {
    expect(flat(sectionOf(text, 'Read before power-up'))).toContain(
      'over 16.9 Ω; less is a short or more load than aux gives. Then from A+ to I4, I5 and I6',
    );
  });

  test('a resistor is told with where it sits and how it comes out', () => {
    const zones = flat(sectionOf(text, 'Old zones'));
    expect(zones).toContain('take out 2.2 kΩ between screw 7 and c1/1');
    expect(zones).toContain('take out 2.2 kΩ at loft (its jumper: set it to no resistor)');
    expect(zones).toContain('take out 2.2 kΩ at pit (cut it out; the pair stays joined)');
  });

  test('keypad and telephone conductors are told one by one, with what becomes of them', () => {
    const lines = flat(sectionOf(text, 'Keypads and telephone'));
    expect(lines).toContain('c13/1 red, c13/2 black, c13/3 green and c13/4 white come off their screws');
    expect(lines).toContain('c14/1 orange and c14/2 white come off their screws');
    expect(lines).toContain('plug the line in again at the interface, past the panel');
  });

  test('the longest names there can be are printed whole where it says what goes where', () => {
    const long = (text: string) =>
      text.replace(/(?<![\w-])(galley-window|shutter|hall-glass)(?![\w-])/g, (id) =>
        `${id}-abcdefghijklmnop`.slice(0, 24),
      );
    const whole = (text: string) => {
      expect(sectionOf(text, 'New inputs').join()).not.toContain('…');
      for (const line of sectionOf(text, 'Old panel')) expect(line.split(' > ')[1] ?? '').not.toContain('…');
    };
    const names = planToText(demoPlan(long), 80);
    whole(names);
    expect(flat(sectionOf(names, 'New inputs'))).toContain('galley-window-abcdefghij');
    const board = shippedBoard('eight-paired', 'board-in-the-boat-store');
    const wide = planToText(planChangeover(demoPlan(long).survey, [board]), 80);
    whole(wide);
    expect(flat(sectionOf(wide, 'New inputs'))).toContain(
      'board-in-the-boat-store/1 (I1 C1): shutter-abcdefghijklmnop, zone z1. At rest 0.82 to 5.09 Ω, worked open.',
    );
  });

  test('a cable that goes on out in the building says from where', () => {
    expect(text).toContain('c4, 22 AWG, 4 m, on from c3');
  });
});

describe('the printed plan where something stands in the way', () => {
  const short = planOfShed({ board: (quiet) => ({ ...quiet, inputs: quiet.inputs.slice(0, 1) }) });

  test('short of inputs it names who is on none, and nothing of it is to be done', () => {
    const text = planToText(short, 80);
    expect(text).toContain('NONE LEFT for crew');
    expect(text).not.toContain('every detector by itself');
    expect(text).toContain('nothing of it is to be done');
    expect(flat(sectionOf(text, 'Old zones'))).toContain('NO INPUT for crew: nothing is done to it');
    expect(flat(sectionOf(text, 'Old panel'))).toContain('> NO INPUT FOR IT');
  });

  test('a feed that is not known to hang on a plug is never told to be unplugged', () => {
    for (const feed of ['hard-wired-transformer', 'mains-in-enclosure', 'unknown', 'plug-in-transformer']) {
      const plan = planOfShed({
        changes: [
          { path: 'outside.feed', value: feed },
          { path: 'panel.terminals.11', value: { number: '11', role: 'ac' } },
        ] as never,
      });
      const line = sectionOf(planToText(plan, 80), 'Old panel').find((one) => one.startsWith('[11]'));
      if (feed === 'plug-in-transformer') expect(line).toContain('unplug it');
      else expect(line).toMatch(/hands off, a licensed electrician isolates it/);
    }
  });

  test('cautions of one code that say to do the same say it once, each with what is so', () => {
    const plan = demoPlan((text) =>
      text.replaceAll('    kind: movement', '    control: reset\n    kind: movement'),
    );
    const latching = plan.findings.filter(({ code }) => code === 'reset-lost');
    const text = flat(planToText(plan, 80).split('\n'));
    const [says = '', act = ''] = latching.at(-1)!.message.split(/(?<=\.) /);
    expect(latching.length).toBeGreaterThan(1);
    for (const { message } of latching) expect(text).toContain(message.split(/(?<=\.) /)[0]);
    expect(text.split(act)).toHaveLength(2);
    expect(text).toContain(`${says} ${act}`);
  });

  test('a sounder of another sense gets a relay among the parts, and is not told to go straight on the output', () => {
    const fits = planOfShed();
    const unlike = planOfShed({ changes: [{ path: 'sounders.horn.trigger', value: 'negative-removed' }] });
    expect(planToText(fits, 80)).not.toMatch(/not straight|x relay/);
    expect(flat(planToText(unlike, 80).split('\n'))).toContain(
      'b1 sounder horn: not straight on the output.',
    );
    expect(unlike.parts.find(({ item }) => item.startsWith('relay 12 V'))?.for).toEqual(['horn']);
  });

  test('detectors of one run that are all short get one change that mends them together', () => {
    const { survey } = randomSurvey(45, { fits: false });
    const plan = planChangeover(survey, [shippedBoard('six-paired')]);
    const short = plan.findings.filter(
      ({ code, about }) => code === 'detector-undervoltage' && ['d6', 'd7'].includes(about[0]!),
    );
    expect(short).toHaveLength(2);
    for (const { message, figures } of short) {
      expect(message).toContain('Replace c6 by 14 AWG: that mends d6 and d7 together.');
      expect(Number(figures.mendedVolts)).toBeGreaterThanOrEqual(Number(figures.minimumVolts));
    }
    expect(flat(planToText(plan, 80).split('\n')).split('that mends d6 and d7 together')).toHaveLength(2);
  });

  test('where zones could share, the finding shows the line of the survey that says so, as it is written', () => {
    let shown = 0;
    for (let seed = 0; seed < 60; seed += 3) {
      const { survey } = randomSurvey(seed, { fits: false, zones: 8, lifeSafety: false });
      const found = planChangeover(survey, [shippedBoard('six-paired')]).findings;
      const short = found.find(({ code }) => code === 'too-few-inputs');
      const line = short && /beside zones: mayShare: (\[\[.*\]\])\.$/.exec(short.message);
      if (!line) continue;
      shown++;
      const mayShare = parse(line[1]!) as string[][];
      const mended = planChangeover({ ...survey, mayShare }, [shippedBoard('six-paired')]);
      expect(
        mended.findings.map(({ code }) => code),
        `seed ${seed}`,
      ).not.toContain('too-few-inputs');
    }
    expect(shown).toBeGreaterThan(2);
  });
});
