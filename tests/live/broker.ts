import { execFileSync, spawn } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer, connect as dial } from 'node:net';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

// Debian puts it where a user's PATH may not lead.
const FOLDERS = [...(process.env.PATH ?? '').split(delimiter), '/usr/sbin', '/usr/local/sbin'];

/** The real broker, Debian's mosquitto; null where it is not installed: its tests are then skipped by name. */
export const MOSQUITTO =
  FOLDERS.map((folder) => join(folder, 'mosquitto')).find((path) => existsSync(path)) ?? null;

export type Broker = {
  readonly port: number;
  readonly url: string;
  /** The certificate authority of a broker with TLS. */
  readonly caFile: string | null;
  readonly stop: () => Promise<void>;
  /** Starts it again on the same port, after a stop. */
  readonly start: () => Promise<void>;
  readonly remove: () => Promise<void>;
};

type BrokerOptions = {
  readonly tls?: boolean;
  readonly user?: { readonly name: string; readonly password: string };
  /** Topics the user may read; all where none is given. */
  readonly mayRead?: string;
};

/** A port of the loopback that nobody has now. */
export function freePort(): Promise<number> {
  return new Promise((found) => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as { port: number };
      server.close(() => found(port));
    });
  });
}

/** Starts a broker of its own on a free port of the loopback. */
export async function startBroker(options: BrokerOptions = {}): Promise<Broker> {
  const folder = mkdtempSync(join(tmpdir(), 'loopward-broker-'));
  const port = await freePort();
  const lines = [
    `listener ${port} 127.0.0.1`,
    'persistence false',
    'log_type none',
    'max_queued_messages 0',
    'max_inflight_messages 0',
    ...(process.getuid?.() === 0 ? ['user root'] : []),
  ];
  if (options.user) {
    const file = join(folder, 'passwords');
    writeFileSync(file, '', { mode: 0o600 });
    execFileSync('mosquitto_passwd', ['-b', file, options.user.name, options.user.password], {
      stdio: 'ignore',
    });
    lines.push('allow_anonymous false', `password_file ${file}`);
    if (options.mayRead) {
      const acl = join(folder, 'acl');
      writeFileSync(acl, `user ${options.user.name}\ntopic read ${options.mayRead}\n`, { mode: 0o600 });
      lines.push(`acl_file ${acl}`);
    }
  } else lines.push('allow_anonymous true');
  if (options.tls) {
    const { ca, certificate, key } = makeCertificates(folder);
    lines.push(`cafile ${ca}`, `certfile ${certificate}`, `keyfile ${key}`);
  }
  const file = join(folder, 'mosquitto.conf');
  writeFileSync(file, `${lines.join('\n')}\n`);
  let child: ReturnType<typeof spawn> | null = null;
  const start = async () => {
    child = spawn(MOSQUITTO ?? 'mosquitto', ['-c', file], { stdio: 'ignore' });
    await reachable(port);
  };
  const stop = () =>
    new Promise<void>((ended) => {
      if (child === null || child.exitCode !== null) return ended();
      child.once('exit', () => ended());
      child.kill('SIGKILL');
    });
  await start();
  return {
    port,
    url: `${options.tls ? 'mqtts://localhost' : 'mqtt://127.0.0.1'}:${port}`,
    caFile: options.tls ? join(folder, 'ca.pem') : null,
    start,
    stop,
    remove: async () => {
      await stop();
      rmSync(folder, { recursive: true, force: true });
    },
  };
}

async function reachable(port: number): Promise<void> {
  for (let tries = 0; tries < 200; tries++) {
    const isThere = await new Promise<boolean>((answered) => {
      const socket = dial(port, '127.0.0.1');
      socket.once('connect', () => {
        socket.destroy();
        answered(true);
      });
      socket.once('error', () => answered(false));
    });
    if (isThere) return;
    await new Promise((later) => setTimeout(later, 25));
  }
  throw new Error(`mosquitto did not come up on port ${port}`);
}

function makeCertificates(folder: string) {
  const at = (name: string) => join(folder, name);
  const openssl = (...given: string[]) => execFileSync('openssl', given, { stdio: 'ignore', cwd: folder });
  openssl(
    'req',
    '-x509',
    '-newkey',
    'rsa:2048',
    '-nodes',
    '-days',
    '2',
    '-subj',
    '/CN=Harbour test CA',
    '-keyout',
    'ca.key',
    '-out',
    'ca.pem',
  );
  openssl(
    'req',
    '-newkey',
    'rsa:2048',
    '-nodes',
    '-subj',
    '/CN=localhost',
    '-keyout',
    'broker.key',
    '-out',
    'broker.csr',
  );
  writeFileSync(at('names'), 'subjectAltName=DNS:localhost,IP:127.0.0.1\n');
  openssl(
    'x509',
    '-req',
    '-in',
    'broker.csr',
    '-CA',
    'ca.pem',
    '-CAkey',
    'ca.key',
    '-CAcreateserial',
    '-days',
    '2',
    '-extfile',
    'names',
    '-out',
    'broker.pem',
  );
  return { ca: at('ca.pem'), certificate: at('broker.pem'), key: at('broker.key') };
}

/** Waits until something is so, or fails with what was waited for. */
export async function until(what: string, isSo: () => boolean, milliseconds = 15_000): Promise<void> {
  const end = Date.now() + milliseconds;
  while (!isSo()) {
    if (Date.now() > end) throw new Error(`It never came to be: ${what}`);
    await new Promise((later) => setTimeout(later, 5));
  }
}
