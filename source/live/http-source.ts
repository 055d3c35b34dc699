import { createHash, timingSafeEqual } from 'node:crypto';
import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import { LONGEST_PAYLOAD_BYTES, type Source, type SourceEvent } from './message.ts';

export type HttpAddress = {
  /** Loopback unless somebody chose otherwise. */
  readonly host: string;
  readonly port: number;
  /** The first part of the path: who does not know it is told nothing. */
  readonly token: string;
};

/** Shorter ones could be guessed. 128 bits in hex are 32 characters; half of that is the least. */
export const SHORTEST_TOKEN = 16;
const REQUEST_MILLISECONDS = 5000;
const MOST_CONNECTIONS = 20;

/**
 * Hears POSTs on a port of this machine: `POST /TOKEN/TOPIC`, with the payload as its body. Anything else is answered with
 * nothing but a status.
 */
export function openHttp(
  { host, port, token }: HttpAddress,
  on: (event: SourceEvent) => void,
): Promise<Source> {
  const at = `${host}:${port}`;
  const server = createServer({ requestTimeout: REQUEST_MILLISECONDS }, (request, response) =>
    take(request, response, token, on),
  );
  server.maxConnections = MOST_CONNECTIONS;
  server.headersTimeout = REQUEST_MILLISECONDS;
  let isOver = false;
  server.on('error', (error: NodeJS.ErrnoException) => {
    if (!isOver) on({ is: 'deaf', atMilliseconds: Date.now(), says: sayServer(error, at), isOver: true });
  });
  server.listen(port, host, () => on({ is: 'hearing', atMilliseconds: Date.now() }));
  return Promise.resolve({
    // Whoever posts chooses what; there is nothing to ask for.
    listenTo: () => {},
    close: () => {
      isOver = true;
      server.close();
      server.closeAllConnections();
    },
  });
}

function take(
  request: IncomingMessage,
  response: ServerResponse,
  token: string,
  on: (event: SourceEvent) => void,
): void {
  const answer = (status: number) => {
    response.writeHead(status, { 'content-length': 0, connection: status === 204 ? 'keep-alive' : 'close' });
    response.end();
  };
  const [, given = '', ...rest] = (request.url ?? '').split('?')[0]?.split('/') ?? [];
  const topic = decoded(rest.join('/'));
  if (!isSame(given, token) || request.method !== 'POST' || topic === null) {
    answer(isSame(given, token) ? 400 : 404);
    return;
  }
  const pieces: Buffer[] = [];
  let bytes = 0;
  request.on('data', (piece: Buffer) => {
    bytes += piece.length;
    if (bytes <= LONGEST_PAYLOAD_BYTES) pieces.push(piece);
    else {
      answer(413);
      request.destroy();
    }
  });
  request.on('end', () => {
    const message = { topic, payload: Buffer.concat(pieces), atMilliseconds: Date.now(), kept: false };
    on({ is: 'message', message });
    answer(204);
  });
  request.on('error', () => {});
}

function decoded(path: string): string | null {
  try {
    return decodeURIComponent(path);
  } catch {
    return null;
  }
}

// Compared by digest, so that how long it takes tells nothing.
function isSame(given: string, token: string): boolean {
  const digest = (text: string) => createHash('sha256').update(text).digest();
  return timingSafeEqual(digest(given), digest(token));
}

function sayServer({ code }: NodeJS.ErrnoException, at: string): string {
  if (code === 'EADDRINUSE') return `Another program has ${at}. Give another port.`;
  if (code === 'EACCES') return `This user may not open ${at}. Give a port above 1023.`;
  if (code === 'EADDRNOTAVAIL')
    return `${at} is no address of this machine. Give one that it has, or 127.0.0.1.`;
  return `${at} cannot be opened (${code ?? 'no reason given'}). Give another address or port.`;
}
