/**
 * Arrays as PostgreSQL itself writes them to the wire (array_send and the send functions of the element types), so that
 * neither side has to quote, escape or parse: a text with its quotes goes as it is, a UUID as its 16 bytes. pg sends a
 * Buffer as a value in this form.
 */
type Values<Value> = readonly (Value | null)[];

/** Numbers of the element types in pg_type. */
const OID = { boolean: 16, bytea: 17, bigint: 20, integer: 23, text: 25, uuid: 2950 } as const;

const HEAD_BYTES = 20;
const LENGTH_BYTES = 4;
const NULL_LENGTH = -1;

/** The head of an array of one dimension; an empty array has none. */
function begin(buffer: Buffer, oid: number, values: Values<unknown>): void {
  buffer.writeInt32BE(values.length === 0 ? 0 : 1, 0);
  buffer.writeInt32BE(values.includes(null) ? 1 : 0, 4);
  buffer.writeInt32BE(oid, 8);
  if (values.length === 0) return;
  buffer.writeInt32BE(values.length, 12);
  buffer.writeInt32BE(1, 16);
}

/** The sizes of the elements of the array that is being written; -1 for null. */
let sizes = new Int32Array(1_024);

function measure<Value>(values: Values<Value>, sizeOf: (value: Value) => number): number {
  if (sizes.length < values.length) sizes = new Int32Array(values.length * 2);
  let bytes = 0;
  for (let index = 0; index < values.length; index++) {
    const value = values[index];
    const size = value === null || value === undefined ? NULL_LENGTH : sizeOf(value);
    sizes[index] = size;
    bytes += LENGTH_BYTES + Math.max(size, 0);
  }
  return bytes;
}

/** Loops by place rather than over pairs: a push writes some fifty arrays, and pairs are most of what it would throw away. */
function arrayOf<Value>(
  oid: number,
  values: Values<Value>,
  sizeOf: (value: Value) => number,
  write: (buffer: Buffer, value: Value, at: number) => void,
): Buffer {
  const bytes = measure(values, sizeOf);
  const buffer = Buffer.allocUnsafe(values.length === 0 ? 12 : HEAD_BYTES + bytes);
  begin(buffer, oid, values);
  let at = HEAD_BYTES;
  for (let index = 0; index < values.length; index++) {
    const value = values[index];
    const size = sizes[index] ?? NULL_LENGTH;
    buffer.writeInt32BE(size, at);
    at += LENGTH_BYTES;
    if (value === null || value === undefined) continue;
    write(buffer, value, at);
    at += size;
  }
  return buffer;
}

export function textArray(values: Values<string>): Buffer {
  return arrayOf(OID.text, values, Buffer.byteLength, (buffer, value, at) => buffer.write(value, at));
}

export function byteaArray(values: Values<Buffer>): Buffer {
  return arrayOf(
    OID.bytea,
    values,
    (value) => value.length,
    (buffer, value, at) => value.copy(buffer, at),
  );
}

const UINT32 = 2 ** 32;

/** Eight bytes of a whole number that JavaScript holds exactly, without making a BigInt of it. */
function writeBigint(buffer: Buffer, value: number, at: number): void {
  const high = Math.floor(value / UINT32);
  buffer.writeInt32BE(high, at);
  buffer.writeUInt32BE(value - high * UINT32, at + 4);
}

export function bigintArray(values: Values<number>): Buffer {
  return arrayOf(OID.bigint, values, () => 8, writeBigint);
}

export function integerArray(values: Values<number>): Buffer {
  return arrayOf(
    OID.integer,
    values,
    () => 4,
    (buffer, value, at) => buffer.writeInt32BE(value, at),
  );
}

export function booleanArray(values: Values<boolean>): Buffer {
  return arrayOf(
    OID.boolean,
    values,
    () => 1,
    (buffer, value, at) => buffer.writeUInt8(value ? 1 : 0, at),
  );
}

const UUID_CHARACTERS = 36;
const DASH = 0x2d;
const NO_DIGIT = 0xff;
/** The value of a hexadecimal digit by its character code. */
const DIGITS = Uint8Array.from({ length: 256 }, (_, code) => {
  const digit = '0123456789abcdef'.indexOf(String.fromCharCode(code).toLowerCase());
  return digit < 0 ? NO_DIGIT : digit;
});

function isDashed(value: string): boolean {
  if (value.length !== UUID_CHARACTERS) return false;
  return [8, 13, 18, 23].every((at) => value.charCodeAt(at) === DASH);
}

/** @returns false where the text is no UUID */
function writeUuid(buffer: Buffer, value: string, at: number): boolean {
  if (!isDashed(value)) return false;
  for (let from = 0, to = at; from < UUID_CHARACTERS; to++) {
    if (value.charCodeAt(from) === DASH) from++;
    const high = DIGITS[value.charCodeAt(from++)] ?? NO_DIGIT;
    const low = DIGITS[value.charCodeAt(from++)] ?? NO_DIGIT;
    if ((high | low) > 0xf) return false;
    buffer[to] = (high << 4) | low;
  }
  return true;
}

/** What is no UUID goes as text instead, so that it is the database that says so. */
export function uuidArray(values: Values<string>): Buffer | Values<string> {
  let whole = true;
  const buffer = arrayOf(
    OID.uuid,
    values,
    () => 16,
    (into, value, at) => {
      whole = whole && writeUuid(into, value, at);
    },
  );
  return whole ? buffer : values;
}
