import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

// The bare server of the comparison: it keeps the answers of all who listen, and writes to each what it is sent. It answers since when
// it had the whole of it, by the clock that all processes of a machine share.
const listening = new Set<ServerResponse>();

function listen(response: ServerResponse): void {
  response.writeHead(200, { 'content-type': 'text/event-stream' });
  response.write('retry: 1000\n\n');
  listening.add(response);
  response.on('close', () => listening.delete(response));
}

const server = createServer((request, response) => {
  if (request.method === 'GET') {
    listen(response);
    return;
  }
  let text = '';
  request.setEncoding('utf8');
  request.on('data', (chunk: string) => (text += chunk));
  request.on('end', () => {
    const held = String(process.hrtime.bigint());
    for (const one of listening) one.write(text);
    response.setHeader('content-length', held.length);
    response.end(held);
  });
});
server.listen(0, '127.0.0.1', () => {
  process.stdout.write(`ready http://127.0.0.1:${(server.address() as AddressInfo).port}\n`);
});
process.once('SIGTERM', () => {
  server.close();
  server.closeAllConnections();
});
