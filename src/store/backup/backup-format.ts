import { z } from 'zod';

/**
 * A backup is one file of UTF-8 lines. The first is its header, the last its trailer, with the SHA-256 of every byte
 * before it. In between stand sections: a line that names a table and a firm, the rows as PostgreSQL's COPY writes them
 * (one line a row), a line of a backslash and a full stop, and a line with the number of rows. Tables stand in an order in
 * which each only refers to those before it.
 */
export const FORMAT = 1;

/** COPY escapes every backslash of a value, so no row is this line. */
export const END_OF_ROWS = Buffer.from('\\.\n');

const count = z.int().min(0);
const name = z.string().regex(/^[a-z_][a-z0-9_]*$/);

export const backupHeader = z.strictObject({
  wellround: z.literal('backup'),
  format: z.literal(FORMAT),
  madeAt: z.iso.datetime({ offset: true }),
  epoch: z.uuid(),
  postgres: z.string(),
  /** In the order of their names. */
  migrations: z.array(z.strictObject({ name: z.string(), checksum: z.string() })).min(1),
});
export type BackupHeader = z.output<typeof backupHeader>;

export const sectionHead = z.strictObject({ table: name, firm: z.uuid().nullable(), columns: z.array(name).min(1) });
export type SectionHead = z.output<typeof sectionHead>;

export const sectionEnd = z.strictObject({ rows: count });

export const backupTrailer = z.strictObject({
  end: z.literal('backup'),
  sections: count,
  rows: count,
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});
export type BackupTrailer = z.output<typeof backupTrailer>;

export function lineOf(value: object): Buffer {
  return Buffer.from(`${JSON.stringify(value)}\n`);
}

export function newlinesIn(bytes: Buffer): number {
  let found = 0;
  for (let at = bytes.indexOf(10); at >= 0; at = bytes.indexOf(10, at + 1)) found += 1;
  return found;
}
