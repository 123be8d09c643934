import pg from 'pg';

const { builtins } = pg.types;
/** Array types have no name in pg's list; these are their fixed numbers in pg_type. */
const INT8_ARRAY = 1016;

/** PostgreSQL's bigint as a number, and never a rounded one. */
export function safeInteger(text: string): number {
  const value = Number(text);
  if (Number.isSafeInteger(value)) return value;
  throw new RangeError(
    `A bigint from the database does not fit a JavaScript number exactly: ${text}. Select it as text.`,
  );
}

/** "2026-11-25 17:30:00.123456+00", as a session in UTC prints it, in the form of RFC 3339 and with all its digits. */
export function utcInstant(text: string): string {
  return text.replace(' ', 'T').replace(/\+00$/, 'Z');
}

const asText = (text: string): string => text;
type Parse = (text: string) => unknown;
// the published types know only named types, the function itself any number
const parserOf = pg.types.getTypeParser as (id: number, format?: string) => Parse;

const textArray = parserOf(INT8_ARRAY) as (text: string) => (string | null)[];
const int8Array = (text: string): (number | null)[] =>
  textArray(text).map((item) => (item === null ? null : safeInteger(item)));

const parsers = new Map<number, Parse>([
  [builtins.INT8, safeInteger],
  [INT8_ARRAY, int8Array],
  [builtins.TIMESTAMPTZ, utcInstant],
  [builtins.TIMESTAMP, asText],
  [builtins.DATE, asText],
]);

/**
 * How our connections read values. bigint: a number, or an error. numeric: its text, so 7.10 stays 7.10 (pg's own
 * habit). timestamptz: RFC 3339 text in UTC with microseconds, which a Date would cut; date and timestamp: their text.
 */
export const storeTypes: pg.CustomTypesConfig = {
  getTypeParser: (id: number, format?: 'text' | 'binary') => {
    const own = format === 'binary' ? undefined : parsers.get(id);
    return own ?? parserOf(id, format);
  },
};
