import { readFileSync, statSync } from 'node:fs';
import { SHORTEST_TOKEN } from './http-source.ts';

/** Passwords come from here or from a file that nobody else may read, and go nowhere but to the broker. */
export const PASSWORD_VARIABLE = 'LOOPWARD_MQTT_PASSWORD';
export const TOKEN_VARIABLE = 'LOOPWARD_HTTP_TOKEN';

type Env = Readonly<Record<string, string | undefined>>;
type Secret =
  | { readonly ok: true; readonly value: string | null }
  | { readonly ok: false; readonly says: string };

/** The password of a broker: of the file, else of the environment, else none. */
export function readPassword(file: string | null, env: Env): Secret {
  if (file !== null) return readSecretFile(file);
  const value = env[PASSWORD_VARIABLE];
  return { ok: true, value: value === undefined || value === '' ? null : value };
}

/** The token that a board puts into the path of its POSTs. Without one the port is not opened. */
export function readToken(file: string | null, env: Env): Secret {
  const read: Secret =
    file === null ? { ok: true, value: env[TOKEN_VARIABLE] ?? null } : readSecretFile(file);
  if (!read.ok) return read;
  if (read.value !== null && read.value.length >= SHORTEST_TOKEN && /^[\w.~-]+$/.test(read.value))
    return read;
  return {
    ok: false,
    says: `There is no token of at least ${SHORTEST_TOKEN} letters and digits, so the port stays shut. Put one into ${TOKEN_VARIABLE}, or into a file that only you may read.`,
  };
}

/** The text of a certificate file. */
export function readCa(file: string | null): Secret {
  if (file === null) return { ok: true, value: null };
  try {
    return { ok: true, value: readFileSync(file, 'utf8') };
  } catch {
    return { ok: false, says: `The certificate file ${file} cannot be read. Give the path of a PEM file.` };
  }
}

function readSecretFile(file: string): Secret {
  try {
    const { mode } = statSync(file);
    // Windows has no such bits.
    if (process.platform !== 'win32' && (mode & 0o077) !== 0)
      return { ok: false, says: `Others may read ${file}. Take that from them: chmod 600 ${file}` };
    const value = readFileSync(file, 'utf8').replace(/\r?\n$/, '');
    if (value === '')
      return { ok: false, says: `${file} is empty. Write the password into it, and nothing else.` };
    return { ok: true, value };
  } catch {
    return { ok: false, says: `${file} cannot be read. Give the path of a file that holds nothing else.` };
  }
}
