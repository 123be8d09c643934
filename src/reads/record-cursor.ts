import { z } from 'zod';
import { date, id, isCalendarDay, text } from '../protocol/primitives.ts';
import { Problem } from '../protocol/problem.ts';
import type { RecordOrder } from '../store/read/record-order.ts';
import type { Place } from '../store/read/record-pages.ts';

/** An instant as the database prints it: in UTC, with up to six digits after the second. */
const utcInstant = z
  .string()
  .regex(/^\d{4,6}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,6})?Z$/)
  .refine((value) => isCalendarDay(value) && Number.isFinite(Date.parse(value)));

const KEYS: Readonly<Record<RecordOrder['type'], z.ZodType<string>>> = {
  uuid: id,
  date,
  timestamptz: utcInstant,
  text: text(4_000),
};

/** A place in a list, opaque to whoever gets it. It grants nothing: rights are asked again for each page. */
export function writeRecordCursor(list: string, order: RecordOrder, place: Place): string {
  return Buffer.from(JSON.stringify([list, order.column, place.key, place.id])).toString('base64url');
}

function parse(cursor: string): unknown {
  try {
    return JSON.parse(Buffer.from(cursor, 'base64url').toString('utf8'));
  } catch {
    return null;
  }
}

/**
 * @param name the argument that it came in, for the message
 * @throws Problem `bad_request` where it is no cursor of such a list
 */
export function readRecordCursor(list: string, order: RecordOrder, cursor: string, name: string): Place {
  const key = order.maybeMissing ? KEYS[order.type].nullable() : KEYS[order.type];
  const form = z.tuple([z.literal(list), z.literal(order.column), key, id]);
  const parsed = form.safeParse(parse(cursor));
  if (parsed.success) return { key: parsed.data[2], id: parsed.data[3] };
  throw new Problem('bad_request', `${name}: no cursor of this list (${list}); take it from a page of the same`);
}
