import type { HttpConnection } from '../http-connection.ts';

const LAST = /"last_seq":(\d+)\}\s*$/;
/** The number of the last change stands at the end of a page. */
const TAIL_BYTES = 100;

/** Reads the first pages of a database of the peer, from nothing, with the documents; returns their bytes. */
export async function readChanges(
  connection: HttpConnection,
  database: string,
  pages: number,
  perPage: number,
): Promise<number> {
  let [bytes, since] = [0, 0];
  for (let page = 1; page <= pages; page++) {
    const path = `/${database}/_changes?include_docs=true&limit=${perPage}&since=${since}`;
    const { status, body } = await connection.ask('GET', path, '');
    const last = Number(LAST.exec(body.toString('latin1', Math.max(0, body.length - TAIL_BYTES)))?.[1]);
    // every document was written once, so that each is one change
    if (status !== 200 || last !== since + perPage)
      throw new Error(`page ${page} of the peer was answered ${status}, up to change ${last} from ${since}`);
    bytes += body.length;
    since = last;
  }
  return bytes;
}
