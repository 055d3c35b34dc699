import { execFileSync, spawnSync } from 'node:child_process';
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  rmSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { beforeAll, describe, expect, test } from 'vitest';
import { Journal } from '../../source/journal/journal.ts';
import { realSystem } from '../../source/journal/system.ts';
import { verifyJournal } from '../../source/journal/verify.ts';
import { bundleWriter, runUnder, scratchFolder } from './programs.ts';

const folder = scratchFolder();
let writer = '';
beforeAll(() => {
  writer = bundleWriter(folder);
});

const isRoot = process.getuid?.() === 0;

function made(name: string): string {
  const dir = join(folder, name);
  const journal = Journal.create(dir, { job: 'hsc-7' }, realSystem());
  journal.append('note', { text: 'one' });
  journal.close();
  return dir;
}

describe('a small disk', () => {
  test.skipIf(!isRoot)(
    'of 1 MB (tmpfs; needs root to mount): it fills up, the reserve lets the work be closed',
    (context) => {
      const disk = mkdtempSync(join(folder, 'small-'));
      const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=1m', 'tmpfs', disk], {
        encoding: 'utf8',
      });
      if (mounted.status !== 0) context.skip(`no tmpfs can be mounted here: ${mounted.stderr}`);
      try {
        const dir = join(disk, 'job');
        const { said, errors } = runUnder('', writer, ['fill', dir, 900]);
        expect(errors).toBe('');
        const result = JSON.parse(said) as {
          acknowledged: number;
          trouble: string[];
          sealed: boolean;
          count: number;
        };
        expect(result).toMatchObject({ trouble: [], sealed: true });
        expect(verifyJournal(dir)).toMatchObject({ outcome: 'self-consistent', records: result.count });
        expect(readdirSync(dir)).not.toContain('.reserve');
      } finally {
        execFileSync('umount', [disk]);
      }
    },
  );

  test.skipIf(!isRoot)('without room for a reserve: it says so, and leaves no half record', (context) => {
    const disk = mkdtempSync(join(folder, 'tiny-'));
    const mounted = spawnSync('mount', ['-t', 'tmpfs', '-o', 'size=64k', 'tmpfs', disk], {
      encoding: 'utf8',
    });
    if (mounted.status !== 0) context.skip(`no tmpfs can be mounted here: ${mounted.stderr}`);
    try {
      const dir = join(disk, 'job');
      const { said, errors } = runUnder('', writer, ['fill', dir, 900]);
      expect(errors).toBe('');
      const { acknowledged, trouble } = JSON.parse(said) as { acknowledged: number; trouble: string[] };
      expect(trouble[0]).toBe('disk-full');
      const verdict = verifyJournal(dir);
      expect(['open', 'self-consistent']).toContain(verdict.outcome);
      expect(verdict.records).toBeGreaterThanOrEqual(acknowledged + 1);
    } finally {
      execFileSync('umount', [disk]);
    }
  });

  // `ulimit -f` counts blocks of 1024 bytes in bash; Node is not killed by SIGXFSZ but gets EFBIG.
  test('with a limit on the size of a file: disk-full in words, the journal whole, a continuation takes over', () => {
    const dir = join(folder, 'limited');
    const { said, errors } = runUnder('ulimit -f 300;', writer, ['fill', dir, 9_000]);
    expect(errors).toBe('');
    const { acknowledged, trouble } = JSON.parse(said) as { acknowledged: number; trouble: string[] };
    expect(trouble[0]).toBe('disk-full');
    expect(verifyJournal(dir).records).toBeGreaterThanOrEqual(acknowledged + 1);
    const journal = Journal.open(dir, realSystem());
    const goesOn = journal.isSealed ? journal : journal.continueIn();
    goesOn.close();
    expect(['open', 'self-consistent']).toContain(verifyJournal(dir).outcome);
  });
});

describe('a folder that cannot be written to', () => {
  // Root may write anywhere, so the program runs as nobody (user 65534 on Debian, common practice).
  const asNobody = isRoot ? 'exec setpriv --reuid=65534 --regid=65534 --clear-groups' : '';
  const open = (dir: string) => {
    const ended = spawnSync(
      'bash',
      ['-c', `${asNobody || 'exec'} "$0" "$@"`, process.execPath, writer, 'open', dir],
      { encoding: 'utf8' },
    );
    return JSON.parse(ended.stdout) as { kind: string; says: string };
  };

  test('is refused in words before any work', () => {
    const dir = made('read-only');
    chmodSync(folder, 0o755);
    chmodSync(dir, 0o555);
    for (const name of readdirSync(dir)) chmodSync(join(dir, name), name === 'locks' ? 0o555 : 0o444);
    chmodSync(writer, 0o644);
    const { kind, says } = open(dir);
    expect(kind).toBe('io');
    expect(says).toContain('There is no permission');
    expect(verifyJournal(dir).outcome).toBe('open');
    chmodSync(dir, 0o700);
  });

  test.skipIf(!isRoot)('nor is a disk that is mounted read-only', (context) => {
    const disk = mkdtempSync(join(folder, 'mounted-'));
    const mounted = spawnSync('mount', ['-t', 'tmpfs', 'tmpfs', disk], { encoding: 'utf8' });
    if (mounted.status !== 0) context.skip(`no tmpfs can be mounted here: ${mounted.stderr}`);
    try {
      const dir = join(disk, 'job');
      Journal.create(dir, { job: 'hsc-7' }, realSystem()).close();
      execFileSync('mount', ['-o', 'remount,ro', disk]);
      expect(() => Journal.open(dir, realSystem())).toThrow('The disk is read-only');
      expect(verifyJournal(dir).outcome).toBe('open');
    } finally {
      execFileSync('umount', [disk]);
    }
  });

  test('nor is a folder that is not there, or a file', () => {
    expect(() => Journal.open(join(folder, 'nowhere'), realSystem())).toThrow('cannot be read as a folder');
    expect(() => Journal.open(writer, realSystem())).toThrow('cannot be read as a folder');
  });
});

describe('who may read', () => {
  test.each(['000', '022', '077'])(
    'files are 0600 and folders 0700 under umask %s; sealed, the journal is 0400',
    (umask) => {
      const dir = join(folder, `umask-${umask}`);
      runUnder(`umask ${umask};`, writer, ['append', dir, 3, 10]);
      const modes = () =>
        Object.fromEntries(
          (readdirSync(dir, { recursive: true }) as string[]).map((name) => {
            const stat = statSync(join(dir, name));
            return [stat.isDirectory() ? `${name}/` : name, (stat.mode & 0o777).toString(8)];
          }),
        );
      expect((statSync(dir).mode & 0o777).toString(8)).toBe('700');
      expect(modes()).toEqual({
        '.key': '600',
        '.reserve': '600',
        '.saved': '600',
        'journal.jsonl': '600',
        'locks/': '700',
        'locks/1': '600',
      });
      const journal = Journal.open(dir, realSystem());
      journal.seal({});
      journal.close();
      expect(modes()).toMatchObject({ 'journal.jsonl': '400', 'seal.txt': '400' });
      expect(existsSync(join(dir, '.key'))).toBe(false);
    },
  );

  test('a journal that was opened to others is closed to them again', () => {
    const dir = made('wide');
    chmodSync(join(dir, 'journal.jsonl'), 0o644);
    Journal.open(dir, realSystem()).close();
    expect(statSync(join(dir, 'journal.jsonl')).mode & 0o777).toBe(0o600);
  });

  test('links are not followed', () => {
    const real = made('real');
    const dir = join(folder, 'linked');
    mkdirSync(dir);
    symlinkSync(join(real, 'journal.jsonl'), join(dir, 'journal.jsonl'));
    expect(() => Journal.open(dir, realSystem())).toThrow('links are not followed');
    rmSync(join(dir, 'journal.jsonl'));
    writeFileSync(join(folder, 'target'), '');
    symlinkSync(join(folder, 'target'), join(dir, '.reserve'));
    symlinkSync(join(folder, 'target'), join(dir, 'journal.jsonl'));
    expect(() => Journal.create(dir, { job: 'hsc-7' }, realSystem())).toThrow('links are not followed');
    expect(statSync(join(folder, 'target')).size).toBe(0);
  });
});

describe('checked by hand', () => {
  // FIPS 180-4 by another implementation: coreutils' sha256sum.
  test('sed and sha256sum alone verify a line', () => {
    const dir = made('by-hand');
    const command = `sed -n 2p journal.jsonl | tr -d '\\n' | sed 's/,"sha256":"[0-9a-f]*"}$/}/' | sha256sum`;
    const digest = execFileSync('bash', ['-c', command], { cwd: dir, encoding: 'utf8' }).slice(0, 64);
    expect(verifyJournal(dir).head).toBe(`2:${digest}`);
  });
});
