import type { RecordState } from '../protocol/record.ts';
import type { ClientContext } from './context.ts';
import { viewAll } from './view.ts';

export interface OpenConflict {
  readonly id: string;
  /** Null while only the answer to the own mutation names it and its row has not come. */
  readonly record: RecordState | null;
  /** The own mutations whose answers name it and that the outbox still keeps. */
  readonly own: readonly { readonly client: string; readonly mutationId: number }[];
}

/** Both values were kept, and a person has to say which one stands. */
export async function conflicts(context: ClientContext): Promise<OpenConflict[]> {
  const found = await viewAll(context, 'conflict');
  const records = new Map(found.map(({ record }) => [record.id, record]));
  const own = (await context.store.outbox()).flatMap(({ client, mutationId, outcome }) =>
    (outcome?.conflicts ?? []).map((id) => ({ id, client, mutationId })),
  );
  const ids = [...new Set([...records.keys(), ...own.map(({ id }) => id)])].sort();
  return ids.flatMap((id) => {
    const record = records.get(id) ?? null;
    if (record?.fields.standing === 'resolved' || record?.voided) return [];
    const named = own
      .filter((mutation) => mutation.id === id)
      .map(({ client, mutationId }) => ({ client, mutationId }));
    return [{ id, record, own: named }];
  });
}
