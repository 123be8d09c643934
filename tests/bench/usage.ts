/** What can be measured, each with what it is. */
export const ROWS: ReadonlyMap<string, string> = new Map([
  ['push', 'batches of 100 from 16 clients, against a bare script with the same rows, and one table with their texts'],
  ['single', 'one mutation a push, 16 at once, against one table with their texts'],
  ['bootstrap', 'a feed from nothing, page by page, against a bare HTTP server with the same query'],
  ['assessment', 'of a purge of 40 readings'],
  ['plan', 'of the samples of 200 wells'],
  ['status', 'of an event of 200 wells, against its own SQL'],
  ['doorbell', 'push with each commit told to who listens, against the same server telling nobody'],
  ['live', 'a commit told to 1,000 listeners, against bare server-sent events'],
  ['trail', 'of a unit over a year, and against its own SQL'],
  ['list', "a laboratory's sample list of 5,000 containers, against its own SQL and JSON of the same rows"],
  ['custody', 'custody records of coolers as PDF, against the PDF library alone with as many pages'],
  ['labels', 'labels of an event of 200 wells as PDF, against the PDF library alone with as many pages'],
  ['clocks', 'of 5,000 containers, against their own SQL'],
  ['peer-push', 'as push, against a PouchDB Server on disk'],
  ['peer-single', 'as single, against the same'],
  ['peer-bootstrap', 'as bootstrap, against the same'],
]);

const WIDTH = Math.max(...[...ROWS.keys()].map((name) => name.length));

export const USAGE = `npm run bench -- [--quick] [--json FILE] [--profile] [--rounds N] [--peer] [--only ROW,...]
  rows, all sides of all of them once a round, the one that goes first changing where it can; what is told of each is
  the median of the rounds:
${[...ROWS].map(([name, what]) => `    ${name.padEnd(WIDTH)}  ${what}`).join('\n')}
  --only     these rows, with commas between them; default: all but the three of the peer
  --peer     also the three rows of the peer; whoever asks for one of them has it installed, once, into
             node_modules/.cache (354 packages, 44 MB, about 20 s)
  --quick    a short run with less of everything: tells whether all works, and figures that are less sure
  --rounds   how many; default: 5, and 3 with --quick
  --json     writes the same numbers to a file (- for standard output instead of the table)
  --profile  says where the time of a push goes in the server, instead of comparing; --only single for single ones`;

/** What a run says of the rows that it was not asked for and does not measure by itself. */
export function leftOut(only: readonly string[] | null, peer: boolean, rows: readonly string[]): string | null {
  if (peer || only !== null) return null;
  return `left out: ${rows.join(', ')}, which compare with a PouchDB Server; --peer has them too, and installs it (44 MB)`;
}

/** @throws RangeError for a row that there is not: nothing would be measured, and nobody told */
export function rowsAsked(text: string | undefined): readonly string[] | null {
  if (text === undefined) return null;
  const asked = text.split(',').map((row) => row.trim());
  const unknown = asked.filter((row) => !ROWS.has(row));
  if (unknown.length === 0) return asked;
  throw new RangeError(`there is no row ${unknown.join(', ')}: give some of ${[...ROWS.keys()].join(', ')}`);
}
