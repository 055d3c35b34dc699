import { createServer, connect as dial, type Socket } from 'node:net';

/** A wire between the one who listens and the broker, which can be cut and joined again. */
export class Wire {
  readonly url: string;
  readonly #server: ReturnType<typeof createServer>;
  readonly #sockets = new Set<Socket>();
  #isCut = false;

  private constructor(server: ReturnType<typeof createServer>, port: number) {
    this.#server = server;
    this.url = `mqtt://127.0.0.1:${port}`;
  }

  static to(port: number): Promise<Wire> {
    return new Promise((made) => {
      const server = createServer();
      server.listen(0, '127.0.0.1', () => {
        const wire = new Wire(server, (server.address() as { port: number }).port);
        server.on('connection', (near) => wire.#join(near, port));
        made(wire);
      });
    });
  }

  cut(): void {
    this.#isCut = true;
    for (const socket of this.#sockets) socket.destroy();
  }

  mend(): void {
    this.#isCut = false;
  }

  close(): void {
    this.cut();
    this.#server.close();
  }

  #join(near: Socket, port: number): void {
    near.on('error', () => {});
    if (this.#isCut) {
      near.destroy();
      return;
    }
    const far = dial(port, '127.0.0.1');
    for (const socket of [near, far]) {
      this.#sockets.add(socket);
      socket.on('error', () => {});
      socket.on('close', () => {
        this.#sockets.delete(socket);
        near.destroy();
        far.destroy();
      });
    }
    near.pipe(far);
    far.pipe(near);
  }
}
