import { z } from 'zod';

/** The most characters that a short text (a name, a code, a reason) may have. */
export const SHORT_TEXT = 200;
/** The most characters that a remark or note may have. */
export const LONG_TEXT = 4_000;

/** PostgreSQL refuses NUL, and would store half a surrogate pair as U+FFFD without a word: both are unreadable here. */
function isStorable(text: string): boolean {
  return !text.includes('\0') && text.isWellFormed();
}

/** What is said of a value that is no string at all; what is wrong with a string, its own rules say. */
function orElse(message: string) {
  return { error: ({ code }: { readonly code: string }) => (code === 'invalid_type' ? message : undefined) };
}

/** Text that is stored and given back character for character. */
export function text(max: number = SHORT_TEXT) {
  return z
    .string(orElse('a text is expected'))
    .min(1)
    .max(max)
    .refine(isStorable, { error: 'holds NUL or half of a surrogate pair, which no database can give back unchanged' });
}

/** A UUID in the usual lower-case form. Clients make version 7; the server makes version 5 for derived records. */
export const id = z
  .string(orElse('the id of a record is a UUID in lower-case hexadecimal'))
  .regex(/^[0-9a-f]{8}-[0-9a-f]{4}-[1-8][0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/, {
    error: 'is not a UUID in lower-case hexadecimal',
  })
  .meta({ format: 'uuid' });

/**
 * A measured number as a decimal string, so that 7.10 stays 7.10: up to 9 digits before the point and 6 after it.
 * NaN, Infinity, exponents and JSON numbers are not readable as a measurement; any finite value is.
 */
export const decimal = z
  .string(orElse('a measured value is a decimal string such as "7.10", never a JSON number'))
  .regex(/^-?(?:0|[1-9]\d{0,8})(?:\.\d{1,6})?$/, {
    error: 'is not a decimal string such as "7.10" (at most 9 digits before the point and 6 after it)',
  })
  .meta({ examples: ['7.10'] });

/** No clock on earth is further from UTC than 14 hours, and PostgreSQL takes less than 16. */
const MAX_OFFSET_MINUTES = 15 * 60 + 59;

/** Date.parse takes 30 February for 2 March, and the year 0 for one; no calendar and no database does. */
export function isCalendarDay(value: string): boolean {
  if (value.startsWith('0000')) return false;
  if (Number(value.slice(8, 10)) <= 28) return true;
  const day = value.slice(0, 10);
  return new Date(`${day}T00:00:00Z`).toJSON()?.startsWith(day) ?? false;
}

function isInstant(value: string): boolean {
  const offset = /([+-])(\d\d):(\d\d)$/.exec(value);
  if (offset && Number(offset[2]) * 60 + Number(offset[3]) > MAX_OFFSET_MINUTES) return false;
  return isCalendarDay(value) && !value.startsWith('24', 11) && Number.isFinite(Date.parse(value));
}

/** A date and time with its offset from UTC, kept as entered: 2026-05-04T10:05:00-05:00. */
export const instant = z
  .string(orElse('a date and time with offset is expected, such as 2026-05-04T10:05:00-05:00'))
  .regex(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(?:\.\d{1,3})?(?:Z|[+-]\d\d:\d\d)$/, {
    error: 'is not a date and time with offset such as 2026-05-04T10:05:00-05:00',
  })
  .refine(isInstant, { error: 'names a date or time that does not exist' })
  .meta({ format: 'date-time' });

/** A calendar date: 2026-05-04. */
export const date = z
  .string(orElse('a date is expected, such as 2026-05-04'))
  .regex(/^\d{4}-\d\d-\d\d$/, { error: 'is not a date such as 2026-05-04' })
  .refine((value) => isCalendarDay(value) && Number.isFinite(Date.parse(`${value}T00:00:00Z`)), {
    error: 'names a day that does not exist',
  })
  .meta({ format: 'date' });
