import type { Context } from '../context.ts';
import type { Role } from '../protocol/kind.ts';
import { Problem } from '../protocol/problem.ts';
import { recordById } from '../store/read/records.ts';

/** A coordinator gives out and withdraws what crews and screens need, and no right above their own. */
const BY_COORDINATOR: readonly Role[] = ['crew', 'dashboard', 'laboratory'];

export function mustRule(own: Role, over: Role): void {
  if (own === 'admin' || BY_COORDINATOR.includes(over)) return;
  throw new Problem(
    'forbidden',
    `the role ${own} may issue and revoke tokens of crew, dashboard and laboratory; admin of all`,
  );
}

/** A record that is named, by a field that is called as its kind unless another name is given. */
export async function mustBeRecord(
  ctx: Context,
  firm: string,
  kind: string,
  id: string | undefined,
  field: string = kind,
): Promise<void> {
  if (id === undefined) return;
  const record = await ctx.records.read(firm, (tx) => recordById(tx, id));
  if (record?.state.kind === kind) return;
  throw new Problem('unreadable_record', `/${field} ${id} is no ${kind} of the firm`, { pointer: `/${field}` });
}
