import { createServer, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import pg from 'pg';
import { liveRows } from '../../../src/store/read/feed-rows.ts';
import { storeTypes } from '../../../src/store/type-parsers.ts';

// The bare server of the comparison: the query, and the bytes. Its cursor is a number, padded to the length of ours. Its
// address ends with where the feed ended when the reader began, which our cursors carry: what was gone by then is not sent.
const { BARE_DATABASE_URL = '', BARE_FIRM = '', BARE_FEED = '', BARE_HEAD = '{}' } = process.env;
/** What a page says before its rows, with the place of the cursor marked. */
const head = JSON.parse(BARE_HEAD) as { before: string; cursorLength: number; after: string };

const pool = new pg.Pool({
  connectionString: BARE_DATABASE_URL,
  options: `-c wellround.firm=${BARE_FIRM} -c timezone=UTC -c datestyle=ISO`,
  types: storeTypes,
  max: 4,
});

async function page(begun: number, after: number, limit: number): Promise<string> {
  const client = await pool.connect();
  try {
    const rows = await liveRows({ client, firm: BARE_FIRM }, BARE_FEED, after, limit, after === 0 ? undefined : begun);
    const last = rows.last ?? after;
    const cursor = String(last).padStart(head.cursorLength, '0');
    const more = rows.count === limit && last < begun;
    return `${head.before}${cursor}","more":${more}${head.after}${rows.text ?? ''}]}`;
  } finally {
    client.release();
  }
}

function fail(response: ServerResponse, error: unknown): void {
  response.statusCode = 500;
  response.end(String(error));
}

const server = createServer((request, response) => {
  const { pathname, searchParams: query } = new URL(request.url ?? '/', 'http://bare');
  const begun = Number(pathname.slice(pathname.lastIndexOf('/') + 1));
  page(begun, Number(query.get('cursor') ?? '0'), Number(query.get('limit'))).then(
    (text) => {
      response.setHeader('content-type', 'application/json');
      response.setHeader('content-length', Buffer.byteLength(text));
      response.end(text);
    },
    (error: unknown) => fail(response, error),
  );
});
server.listen(0, '127.0.0.1', () => {
  process.stdout.write(`ready http://127.0.0.1:${(server.address() as AddressInfo).port}\n`);
});
process.once('SIGTERM', () => {
  server.close();
  server.closeAllConnections();
  void pool.end();
});
