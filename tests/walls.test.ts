import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { describe, expect, test } from 'vitest';

// The rooms from the ground up: a file imports only from rooms on a lower floor, or from its own room.
const FLOORS: Record<string, number> = {
  electrical: 1,
  journal: 1,
  wiring: 2,
  site: 3,
  plan: 4,
  procedure: 5,
  job: 6,
  rehearsal: 7,
  live: 7,
  handover: 7,
  screens: 8,
  folders: 8,
  'kept-file': 8,
  commands: 9,
  settings: 9,
  cli: 10,
  'kept-code': 10,
};
// Neighbours on one floor know nothing of each other, but for settings, which the commands hand round.
const SAME_FLOOR = new Set(['commands>settings']);
// What a room may not import although it lies below: the building must not know what the plan expects.
const FORBIDDEN = new Set([
  'rehearsal/building>plan',
  'rehearsal/building>procedure',
  'rehearsal/building>job',
  'live>procedure',
]);
const source = resolve(import.meta.dirname, '../source');

type Import = { file: string; room: string; target: string; kind: 'room' | 'package' };

function importsOf(file: string): Import[] {
  const text = readFileSync(join(source, file), 'utf8');
  const room = file.includes('/') ? file.slice(0, file.indexOf('/')) : file.replace(/\.tsx?$/, '');
  const found = [...text.matchAll(/(?:from\s+|import\s*\(\s*|^import\s+)['"]([^'"]+)['"]/gm)];
  return found.map(([, specifier = '']) => {
    if (!specifier.startsWith('.') || specifier.endsWith('/package.json'))
      return { file, room, target: specifier, kind: 'package' };
    const target = relative(source, resolve(source, dirname(file), specifier));
    return { file, room, target: target.split('/')[0]!.replace(/\.tsx?$/, ''), kind: 'room' };
  });
}

const files = (readdirSync(source, { recursive: true }) as string[]).filter((name) => /\.tsx?$/.test(name));
const imports = files.flatMap(importsOf);

describe('the walls between rooms', () => {
  test('every file stands in a room of the house', () => {
    expect(new Set(imports.map((i) => i.room).filter((room) => !(room in FLOORS)))).toEqual(new Set());
    expect(files.length).toBeGreaterThan(10);
  });

  test('nothing imports upwards or sideways', () => {
    const bad = imports
      .filter((i) => i.kind === 'room' && i.room !== i.target)
      .filter((i) => !(FLOORS[i.target]! < FLOORS[i.room]!) && !SAME_FLOOR.has(`${i.room}>${i.target}`));
    expect(bad).toEqual([]);
  });

  // A type that two files hand each other has a file of its own; rooms are added here as they become so.
  test.each(['electrical', 'site', 'wiring'])('no file of %s comes back to itself by its imports', (room) => {
    const importsIn = new Map(
      files
        .filter((file) => file.startsWith(`${room}/`))
        .map((file) => {
          const text = readFileSync(join(source, file), 'utf8');
          const own = [...text.matchAll(/from\s+['"](\.[^'"]+)['"]/g)].map(([, specifier = '']) =>
            relative(source, resolve(source, dirname(file), specifier)),
          );
          return [file, own.filter((target) => target.startsWith(`${room}/`))] as const;
        }),
    );
    const reaches = (from: string, wanted: string, seen = new Set<string>()): boolean =>
      (importsIn.get(from) ?? []).some((next) => {
        if (next === wanted) return true;
        if (seen.has(next)) return false;
        seen.add(next);
        return reaches(next, wanted, seen);
      });
    expect(importsIn.size).toBeGreaterThan(5);
    expect([...importsIn.keys()].filter((file) => reaches(file, file))).toEqual([]);
  });

  test('the building knows neither plan nor procedure nor job', () => {
    const bad = imports.filter((i) =>
      [...FORBIDDEN].some((rule) => {
        const [from = '', to] = rule.split('>');
        return i.file.startsWith(from) && i.target === to;
      }),
    );
    expect(bad).toEqual([]);
  });

  test('floors 1 to 5 import no React, no Ink; only the journal touches the disk', () => {
    const bad = imports.filter((i) => {
      if (i.kind !== 'package' || FLOORS[i.room]! > 5) return false;
      if (/^(react|react-dom|ink)(\/|$)|^ink-/.test(i.target)) return true;
      return i.target.startsWith('node:') && i.room !== 'journal';
    });
    expect(bad).toEqual([]);
  });

  test('the pure rooms use no clock, no randomness, no process', () => {
    const pure = files.filter((name) => /^(electrical|site|plan|procedure)\//.test(name));
    const bad = pure.filter((name) =>
      /\bnew Date\b|\bDate\.now\b|\bMath\.random\b|\bprocess\.|\bperformance\.now\b/.test(
        readFileSync(join(source, name), 'utf8').replaceAll(/\/\*[\s\S]*?\*\/|\/\/.*$/gm, ''),
      ),
    );
    expect(bad).toEqual([]);
  });
});

test('every exported function says what it is for, and no file is longer than 350 lines', () => {
  const silent = files.flatMap((name) => {
    const lines = readFileSync(join(source, name), 'utf8').split('\n');
    expect(lines.length, name).toBeLessThanOrEqual(351);
    return lines.flatMap((line, at) => {
      const [, called] = /^export (?:async )?function\*? (\w+)/.exec(line) ?? [];
      let above = at - 1;
      // Why it is written so may stand between.
      while (lines[above]?.startsWith('//')) above -= 1;
      return called === undefined || lines[above]?.endsWith('*/') ? [] : [`${name}: ${called}`];
    });
  });
  expect(silent).toEqual([]);
});
