import { Problem } from '../protocol/problem.ts';
import type { RecordOrder } from '../store/read/record-order.ts';
import { type SetAsideRow, setAsideRows } from '../store/read/set-aside-rows.ts';
import type { ReadTx } from '../store/read/transaction.ts';
import { boundsOf, type Page, type PageArgs, pageFrom } from './page-args.ts';
import type { Reader } from './reader.ts';

const LIST = 'set-asides';
const ORDER: RecordOrder = { column: 'received_at', type: 'timestamptz' };

/**
 * What was set aside is looked after by the office: it is in no feed, and may hold what nobody could read.
 *
 * @throws Problem `forbidden`
 */
export function mustBeOffice({ role }: Reader): void {
  if (role === 'coordinator' || role === 'admin') return;
  throw new Problem('forbidden', `the role ${role} may not read what was set aside; coordinator and admin may`);
}

/**
 * A page of what was set aside, oldest first.
 *
 * @param standing only those that stand so; null for all
 */
export async function setAsideList(tx: ReadTx, standing: string | null, args: PageArgs): Promise<Page<SetAsideRow>> {
  const bounds = boundsOf(LIST, ORDER, args);
  const rows = await setAsideRows(tx, standing, bounds);
  return pageFrom(LIST, ORDER, bounds, rows, ({ receivedAt, id }) => ({ key: receivedAt, id }));
}
