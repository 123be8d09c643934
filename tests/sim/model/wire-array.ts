/** Numbers of the element types in pg_type, as the server writes them. */
const UUID = 2950;
const TEXT = 25;
const BYTEA = 17;
const BIGINT = 20;
const INTEGER = 23;
const BOOLEAN = 16;

const HEAD_BYTES = 20;

function dashed(hex: string): string {
  return `${hex.slice(0, 8)}-${hex.slice(8, 12)}-${hex.slice(12, 16)}-${hex.slice(16, 20)}-${hex.slice(20)}`;
}

function element(bytes: Buffer, oid: number): unknown {
  switch (oid) {
    case UUID:
      return dashed(bytes.toString('hex'));
    case TEXT:
      return bytes.toString('utf8');
    case BYTEA:
      return Buffer.from(bytes);
    case BIGINT:
      return Number(bytes.readBigInt64BE());
    case INTEGER:
      return bytes.readInt32BE();
    case BOOLEAN:
      return bytes[0] === 1;
    default:
      throw new Error(`an array of type ${oid} is not known to the model`);
  }
}

/** The elements of an array parameter, whether it travels as an array or in the binary form of PostgreSQL. */
export function arrayIn(value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value;
  if (!Buffer.isBuffer(value)) throw new Error(`an array was expected, not ${typeof value}`);
  if (value.readInt32BE(0) === 0) return [];
  const oid = value.readInt32BE(8);
  const elements: unknown[] = [];
  for (let at = HEAD_BYTES, left = value.readInt32BE(12); left > 0; left--) {
    const size = value.readInt32BE(at);
    at += 4;
    elements.push(size < 0 ? null : element(value.subarray(at, at + size), oid));
    at += Math.max(size, 0);
  }
  return elements;
}

export function textsIn(value: unknown): readonly string[] {
  return arrayIn(value) as readonly string[];
}

/** One object a place of the arrays, as `unnest` gives rows. */
export function rowsOf(names: readonly string[], values: readonly unknown[]): Record<string, unknown>[] {
  const columns = values.map(arrayIn);
  return (columns[0] ?? []).map((_, index) =>
    Object.fromEntries(names.map((name, column) => [name, columns[column]?.[index] ?? null])),
  );
}
