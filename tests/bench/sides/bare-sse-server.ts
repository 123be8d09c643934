import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';

// The bare server of the comparison: it keeps the answers of all who listen, and writes to each what it is sent.
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
    for (const one of listening) one.write(text);
    response.setHeader('content-length', 2);
    response.end('ok');
  });
});
server.listen(0, '127.0.0.1', () => {
  process.stdout.write(`ready http://127.0.0.1:${(server.address() as AddressInfo).port}\n`);
});
process.once('SIGTERM', () => {
  server.close();
  server.closeAllConnections();
});
