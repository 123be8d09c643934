// PouchDB Server as it is published, on LevelDB, in the folder it is given; started by the benchmark as a child.
import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type AddressInfo, createServer } from 'node:net';
import path from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

const { PEER_PACKAGES = '', PEER_DATA = '' } = process.env;
const TRIES = 200;
const BETWEEN_TRIES_MS = 50;

/** It cannot say which port it was given, so it is told one that was free a moment ago. */
function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer().once('error', reject);
    server.listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => resolve(port));
    });
  });
}

async function untilItAnswers(url: string): Promise<void> {
  for (let tries = 0; tries < TRIES; tries++) {
    const answer = await fetch(url).catch(() => null);
    await answer?.arrayBuffer();
    if (answer?.ok) return;
    await wait(BETWEEN_TRIES_MS);
  }
  throw new Error(`PouchDB Server did not answer at ${url} within ${(TRIES * BETWEEN_TRIES_MS) / 1_000} s`);
}

// Its log and its list of databases stand in the folder where it is started.
process.chdir(PEER_DATA);
// As ours, it writes down only what goes wrong.
writeFileSync('config.json', JSON.stringify({ log: { level: 'warning' } }));
process.noDeprecation = true;
const port = await freePort();
const place = ['--host', '127.0.0.1', '--port', String(port), '--dir', './data', '--config', './config.json'];
process.argv.splice(1, process.argv.length, 'pouchdb-server', ...place, '--no-stdout-logs');
createRequire(path.join(PEER_PACKAGES, 'package.json'))('pouchdb-server');
await untilItAnswers(`http://127.0.0.1:${port}/`);
process.stdout.write(`ready http://127.0.0.1:${port}\n`);
