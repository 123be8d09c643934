import type { FieldClient } from './client.ts';

const PARENTS = ['visit', 'purge'];

/** The visit that a record belongs to, as this device has it; null for what belongs to none. */
export async function visitOf(client: FieldClient, id: string): Promise<string | null> {
  const record = (await client.one(id))?.record;
  if (!record) return null;
  if (record.kind === 'visit') return record.id;
  const [parent] = PARENTS.flatMap((field) => record.fields[field] ?? []);
  return typeof parent === 'string' ? visitOf(client, parent) : null;
}
