import path from 'node:path';
import { defineConfig } from 'prisma/config';

// Generating the client needs no native engine, yet the CLI insists on finding one and would download it.
// Any executable satisfies the look-up, so generation works on a machine that reaches nothing but a registry.
process.env.PRISMA_SCHEMA_ENGINE_BINARY ??= process.execPath;

export default defineConfig({
  schema: path.join(import.meta.dirname, '../prisma/schema.prisma'),
  migrations: { path: path.join(import.meta.dirname, '../prisma/migrations') },
});
