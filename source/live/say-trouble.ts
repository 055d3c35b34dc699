/** An error as Node and the MQTT library hand it out. */
type Trouble = { readonly code?: unknown; readonly message?: unknown };

const LOOK_AT_ADDRESS = 'Look whether the broker runs, and whether address and port are right.';
const PASSWORD =
  'Check the user name, and the password in LOOPWARD_MQTT_PASSWORD or in the password file; then listen again.';
const CERTIFICATE = 'Give the file of the certificate authority that signed it, or ask who runs the broker.';

/** What stands in the way, and what to do, by code: Node's, and the reason codes of MQTT 3.1.1 (3.2.2.3) and 5.0 (2.4). */
const SAYS: Readonly<Record<string, (at: string) => string>> = {
  ECONNREFUSED: (at) => `Nothing answers at ${at}. ${LOOK_AT_ADDRESS}`,
  ENOTFOUND: (at) => `No machine is known under the name in ${at}. Check the name, or give its number.`,
  EAI_AGAIN: (at) => `The name in ${at} cannot be looked up now. Check the network, or give its number.`,
  EHOSTUNREACH: (at) => `There is no way to ${at}. Look whether this computer is on the board's network.`,
  ENETUNREACH: (at) => `There is no way to ${at}. Look whether this computer is on the board's network.`,
  ETIMEDOUT: (at) => `${at} does not answer. ${LOOK_AT_ADDRESS}`,
  ECONNRESET: (at) => `${at} broke the connection. Look whether the broker still runs.`,
  EPROTO: (at) => `${at} does not speak TLS there. Give mqtt: instead of mqtts:, or the port for TLS.`,
  ERR_SSL_WRONG_VERSION_NUMBER: (at) =>
    `${at} does not speak TLS there. Give mqtt: instead of mqtts:, or the port for TLS.`,
  DEPTH_ZERO_SELF_SIGNED_CERT: (at) => `The certificate of ${at} is signed by itself. ${CERTIFICATE}`,
  SELF_SIGNED_CERT_IN_CHAIN: (at) =>
    `The certificate of ${at} is signed by nobody known here. ${CERTIFICATE}`,
  UNABLE_TO_VERIFY_LEAF_SIGNATURE: (at) =>
    `The certificate of ${at} is signed by nobody known here. ${CERTIFICATE}`,
  UNABLE_TO_GET_ISSUER_CERT_LOCALLY: (at) =>
    `The certificate of ${at} is signed by nobody known here. ${CERTIFICATE}`,
  CERT_HAS_EXPIRED: (at) =>
    `The certificate of ${at} has expired. Have it renewed; check this computer's clock.`,
  ERR_TLS_CERT_ALTNAME_INVALID: (at) =>
    `The certificate of ${at} is for another name. Give the address by the name that it was made for.`,
  '2': () => 'The broker refuses the name this program goes by. Ask who runs the broker.',
  '3': () => 'The broker says that it cannot serve now. Try again in a while.',
  '4': () => `The broker refuses this user or password. ${PASSWORD}`,
  '5': () => `The broker lets this user not in. ${PASSWORD}`,
  '134': () => `The broker refuses this user or password. ${PASSWORD}`,
  '135': () => `The broker lets this user not in. ${PASSWORD}`,
  '136': () => 'The broker says that it cannot serve now. Try again in a while.',
  '137': () => 'The broker says that it is busy. Try again in a while.',
  '138': () => 'The broker has shut this user out. Ask who runs the broker.',
};

/** Refused for who asks: to ask again the same way would only be refused again. */
const REFUSALS: ReadonlySet<string> = new Set(['2', '4', '5', '134', '135', '138']);
/** The broker does not speak this version: 3.1.1, 3.2.2.3 code 1; 5.0, 3.2.2.2 code 132. */
const VERSIONS: ReadonlySet<string> = new Set(['1', '132']);

/**
 * What stands in the way of hearing, in one sentence of what is so and one of what to do. Nothing of what the other side
 * wrote is in it.
 *
 * @param at address and port, as typed
 */
export function sayTrouble(error: unknown, at: string): string {
  const { code } = (error ?? {}) as Trouble;
  const known = SAYS[String(code)];
  if (known) return known(at);
  if (/connack timeout|keepalive timeout/i.test(messageOf(error)))
    return `${at} took the call and never answers as a broker does. Look whether this is the broker's port.`;
  return `${at} cannot be heard${code === undefined ? '' : ` (${String(code).slice(0, 40)})`}. ${LOOK_AT_ADDRESS}`;
}

/** Whether to ask again would change nothing. */
export function isRefusal(error: unknown): boolean {
  return REFUSALS.has(String((error as Trouble | null)?.code));
}

/** Whether the other version of the protocol is worth a try. */
export function isOtherVersion(error: unknown): boolean {
  return VERSIONS.has(String((error as Trouble | null)?.code));
}

function messageOf(error: unknown): string {
  const { message } = (error ?? {}) as Trouble;
  return typeof message === 'string' ? message : '';
}
