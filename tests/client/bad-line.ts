import { createServer, request } from 'node:http';
import type { AddressInfo } from 'node:net';

/** through: as it should be. down: nothing arrives. swallowed: what was sent arrives, and no answer comes back. */
export type Line = 'through' | 'down' | 'swallowed';
export interface BadLine {
  url: string;
  line: Line;
  close(): Promise<void>;
}

/** A wire between page and server that a test can cut. The worker's own requests go over it like the page's. */
export async function badLine(target: string): Promise<BadLine> {
  const { hostname, port } = new URL(target);
  const wire: BadLine = { url: '', line: 'through', close: async () => {} };
  const server = createServer((incoming, outgoing) => {
    const cut = () => incoming.socket.destroy();
    if (wire.line === 'down') return cut();
    const { url, method, headers } = incoming;
    const onward = request(
      { hostname, port, path: url, method, headers: { ...headers, host: `${hostname}:${port}` } },
      (answer) => {
        if (wire.line !== 'through') return cut();
        outgoing.writeHead(answer.statusCode ?? 500, answer.headers);
        answer.pipe(outgoing);
      },
    );
    onward.on('error', cut);
    incoming.pipe(onward);
  });
  await new Promise<void>((done) => server.listen(0, '127.0.0.1', done));
  wire.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
  wire.close = () =>
    new Promise((done) => {
      server.close(() => done());
      server.closeAllConnections();
    });
  return wire;
}
