import { randomBytes } from 'node:crypto';
import type { MqttClient } from 'mqtt';
import type { Source, SourceEvent } from './message.ts';
import { isOtherVersion, isRefusal, sayTrouble } from './say-trouble.ts';

export type MqttAddress = {
  /** `mqtt://host:1883` or `mqtts://host:8883`, without user and password. */
  readonly url: string;
  readonly username: string | null;
  readonly password: string | null;
  /** The certificate authority that signed the broker's certificate, PEM; null: those that the system knows. */
  readonly ca: string | null;
};

type Version = 4 | 5;
const ANSWER_MILLISECONDS = 8000;
const KEEP_ALIVE_SECONDS = 15;
/** The pause before it is tried again: it grows to the longest, so that a dead broker is asked seldom. */
const PAUSE_MILLISECONDS = { first: 500, longest: 10_000 } as const;
/** MQTT 5.0 3.1.2.11.4: the broker sends us nothing longer. 3.1.1 has no such word; there it is dropped once it is here. */
const LONGEST_PACKET_BYTES = 256 * 1024;

/**
 * Hears a broker: MQTT 5.0, or 3.1.1 where the broker knows no other. Each connection is a new session, so that nothing
 * is handed out late and taken for now. The library is loaded here and nowhere else.
 */
export async function openMqtt(
  address: MqttAddress,
  on: (event: SourceEvent) => void,
  answerMilliseconds = ANSWER_MILLISECONDS,
): Promise<Source> {
  const { connect } = await import('mqtt');
  const at = new URL(address.url).host;
  let client: MqttClient | null = null;
  let filters: readonly string[] = [];
  let version: Version = 5;
  let pause: number = PAUSE_MILLISECONDS.first;
  let again: NodeJS.Timeout | null = null;
  let isOver = false;

  const deaf = (says: string) => on({ is: 'deaf', atMilliseconds: Date.now(), says });

  // Nothing can be heard before the broker has taken the subscription.
  function subscribe(to: MqttClient, wanted: readonly string[], taken: () => void): void {
    if (wanted.length === 0) {
      taken();
      return;
    }
    to.subscribe([...wanted], { qos: 1 }, (error, granted) => {
      if (isOver || client !== to || !to.connected) return;
      const isRefused = error !== null || granted?.some(({ qos }) => Number(qos) >= 128);
      if (isRefused) deaf(NO_RIGHT);
      else taken();
    });
  }

  function dial(): void {
    let says: string | null = null;
    let isHeard = false;
    let isFinal = false;
    const made = connect(address.url, {
      protocolVersion: version,
      clientId: `loopward-${randomBytes(6).toString('hex')}`,
      clean: true,
      keepalive: KEEP_ALIVE_SECONDS,
      connectTimeout: answerMilliseconds,
      reconnectPeriod: 0,
      // Its log of packets could show the password.
      log: () => {},
      resubscribe: false,
      ...(address.username === null ? {} : { username: address.username }),
      ...(address.password === null ? {} : { password: address.password }),
      ...(address.ca === null ? {} : { ca: address.ca }),
      ...(version === 5 ? { properties: { maximumPacketSize: LONGEST_PACKET_BYTES } } : {}),
    });
    client = made;
    made.on('connect', () => {
      isHeard = true;
      pause = PAUSE_MILLISECONDS.first;
      subscribe(made, filters, () => on({ is: 'hearing', atMilliseconds: Date.now() }));
    });
    made.on('message', (topic, payload, packet) => {
      const message = { topic, payload, atMilliseconds: Date.now(), kept: packet.retain };
      if (!isOver) on({ is: 'message', message });
    });
    made.on('error', (error) => {
      says = isHeard && isCut(error) ? lost(at) : sayTrouble(error, at);
      if (isOtherVersion(error) && version === 5) version = 4;
      else isFinal = isRefusal(error);
      // Not every error closes what it broke.
      made.end(true);
    });
    made.on('close', () => {
      if (isOver || client !== made) return;
      client = null;
      made.end(true);
      if (isFinal) {
        const told = says ?? sayTrouble(null, at);
        on({ is: 'deaf', atMilliseconds: Date.now(), says: told, isOver: true });
        return;
      }
      deaf(says ?? (isHeard ? lost(at) : sayTrouble({ message: 'connack timeout' }, at)));
      // A broker of old may hang up on a version it does not know, without a word.
      if (!isHeard && says === null) version = version === 5 ? 4 : 5;
      again = setTimeout(dial, pause);
      pause = Math.min(pause * 2, PAUSE_MILLISECONDS.longest);
    });
  }

  dial();
  return {
    listenTo: (wanted) => {
      const gone = filters.filter((filter) => !wanted.includes(filter));
      const more = wanted.filter((filter) => !filters.includes(filter));
      filters = wanted;
      if (!client?.connected) return;
      if (gone.length > 0) client.unsubscribe([...gone]);
      subscribe(client, more, () => {});
    },
    close: () => {
      isOver = true;
      if (again) clearTimeout(again);
      client?.end(true);
      client = null;
    },
  };
}

const NO_RIGHT =
  'The broker does not let this user hear the board’s topics. Ask who runs the broker for the right to read them.';

/** Whether a line that stood was cut: a broker that goes shows as an end or as one of these, as it happens. */
const isCut = (error: Error) =>
  ['ECONNRESET', 'EPIPE', 'ECONNABORTED'].includes(String((error as NodeJS.ErrnoException).code));

const lost = (at: string) =>
  `The connection to ${at} is lost. It is tried again by itself; look at the network and at the broker if it lasts.`;
