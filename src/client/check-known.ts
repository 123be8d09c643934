import type { z } from 'zod';
import { readBeyond } from '../protocol/beyond-shape.ts';
import type { KindDefinition } from '../protocol/kind.ts';
import { LocalError } from './local-error.ts';

/**
 * Fields merge as wholes. Whoever changes one of which a newer app has filled in more than this one knows would drop
 * that without having seen it: of a plan or a list of parts, it is not done. What was observed is never refused.
 *
 * @param shown what the screen showed of the fields that are changed
 */
export function checkKnown(kind: KindDefinition, shown: Readonly<Record<string, unknown>>): void {
  if (kind.family !== 'fact') return;
  for (const [field, value] of Object.entries(shown)) {
    const schema = (kind.fields.shape as Readonly<Record<string, z.ZodType | undefined>>)[field];
    const read = schema && readBeyond(schema, value);
    const [more] = read && 'beyond' in read ? read.beyond : [];
    if (more === undefined) continue;
    const what = `${kind.name}.${[field, ...more].map(String).join('.')}`;
    throw new LocalError('newer_value', `${what} is not known to this app, and would be lost: update the app first`, [
      `/${[field, ...more].map(String).join('/')}`,
    ]);
  }
}
