import type { HttpConnection } from '../http-connection.ts';

const CURSOR = /"cursor":"([^"]*)","more":(true|false),"tail":(\d+)/;
/** The cursor stands within the first bytes of a page; a phone would parse the whole, which is not measured. */
const HEAD_BYTES = 2_000;

/** What reading a feed from nothing came to. */
export interface Bootstrapped {
  readonly bytes: number;
  readonly pages: number;
  /** Bytes of each page. */
  readonly sizes: readonly number[];
  readonly firstPage: string;
  /** Where the feed ended when it was begun. */
  readonly tail: number;
}

/** Reads a feed from nothing, a page after the other, to its end or to so many pages. */
export async function bootstrap(
  connection: HttpConnection,
  address: string,
  headers: string,
  most = Number.POSITIVE_INFINITY,
  take?: (page: Buffer) => void,
): Promise<Bootstrapped> {
  const sizes: number[] = [];
  let [pages, cursor, more, firstPage, tail] = [0, '', true, '', 0];
  while (more && pages < most) {
    const from = cursor === '' ? '' : `&cursor=${encodeURIComponent(cursor)}`;
    const { status, body } = await connection.ask('GET', `${address}?limit=1000${from}`, headers);
    const head = body.toString('utf8', 0, HEAD_BYTES);
    const found = CURSOR.exec(head);
    if (status !== 200 || !found) throw new Error(`page ${pages + 1} of ${address} was answered ${status}: ${head}`);
    if (pages === 0) [firstPage, tail] = [head, Number(found[3])];
    take?.(body);
    sizes.push(body.length);
    pages += 1;
    cursor = found[1] ?? '';
    more = found[2] === 'true';
  }
  return { bytes: sizes.reduce((sum, size) => sum + size, 0), pages, sizes, firstPage, tail };
}
