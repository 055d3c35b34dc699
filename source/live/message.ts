/** What arrived, from whatever source, before anything is known of what it means. */
export type Message = {
  /** MQTT topic; of a POST the path behind its token; of a line its first word. */
  readonly topic: string;
  readonly payload: Uint8Array;
  readonly atMilliseconds: number;
  /** The broker kept it from earlier: it says nothing of now. */
  readonly kept: boolean;
};

/** What a source of messages tells of itself. `says` is one sentence of what is so and one of what to do. */
export type SourceEvent =
  | { readonly is: 'message'; readonly message: Message }
  | { readonly is: 'hearing'; readonly atMilliseconds: number }
  | {
      readonly is: 'deaf';
      readonly atMilliseconds: number;
      readonly says: string;
      /** It is not tried again by itself. */
      readonly isOver?: true;
    };

/**
 * A way for the board to be heard. It opens its network when it is made and at no other time.
 *
 * @see openMqtt, openHttp, openLines: another way is one more such file
 */
export type Source = {
  /** Asks for the messages of these topic filters from now on; a source without filters takes all. */
  listenTo(filters: readonly string[]): void;
  close(): void;
};

/** Longer payloads tell no state of an input, and are dropped unread. */
export const LONGEST_PAYLOAD_BYTES = 64 * 1024;
/** MQTT 5.0 (OASIS, 2019) 4.7.3: a topic is at most 65,535 bytes. What names an input is far shorter. */
const LONGEST_TOPIC = 1024;

const UTF8 = new TextDecoder('utf-8', { fatal: true });

/**
 * The text of a payload, or null where it is none: too long, or no UTF-8. MQTT carries any bytes.
 *
 * @example textOf(new Uint8Array([0xff])) // => null
 */
export function textOf(payload: Uint8Array): string | null {
  if (payload.byteLength > LONGEST_PAYLOAD_BYTES) return null;
  try {
    return UTF8.decode(payload).trim();
  } catch {
    return null;
  }
}

/**
 * Whether a message may have such a topic: MQTT 5.0 3.3.2.1 forbids wildcards in it, 1.5.4 the null character and
 * warns of control characters, which would reach the terminal.
 */
export function isTopicName(topic: string): boolean {
  return topic !== '' && topic.length <= LONGEST_TOPIC && !/[+#\p{Cc}\p{Cf}\p{Surrogate}]/u.test(topic);
}
