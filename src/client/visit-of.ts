import type { FieldClient } from './client.ts';

const PARENTS = ['visit', 'purge'];
/** A container and its fills lie in no visit: what is asked of them is asked at that of the sample. */
const BESIDES: Readonly<Record<string, readonly string[]>> = { container: ['sample'], fill: ['container', 'visit'] };

/** The visit that a record belongs to, as this device has it; null for what belongs to none. */
export async function visitOf(client: FieldClient, id: string): Promise<string | null> {
  const record = (await client.one(id))?.record;
  if (!record) return null;
  if (record.kind === 'visit') return record.id;
  const parents = (BESIDES[record.kind] ?? PARENTS).flatMap((field) => record.fields[field] ?? []);
  for (const parent of parents) {
    const visit = typeof parent === 'string' ? await visitOf(client, parent) : null;
    if (visit !== null) return visit;
  }
  return null;
}
