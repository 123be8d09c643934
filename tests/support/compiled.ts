import { existsSync, renameSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import path from 'node:path';
import { buildSync } from 'esbuild';
import { inject } from 'vitest';
import { compiledFolder, ROOT } from './compiled-folder.ts';

const PROGRAMS = ['main.ts', 'cli.ts', 'client-node/crew.ts'] as const;

function compile(folder: string): void {
  buildSync({
    absWorkingDir: ROOT,
    entryPoints: PROGRAMS.map((program) => `src/${program}`),
    outbase: 'src',
    outdir: path.join(folder, 'src'),
    bundle: true,
    splitting: true,
    packages: 'external',
    format: 'esm',
    platform: 'node',
    target: 'node20',
    logLevel: 'error',
  });
  writeFileSync(path.join(folder, 'package.json'), '{"type":"module"}');
  symlinkSync(path.join(ROOT, 'prisma'), path.join(folder, 'prisma'));
}

/**
 * A program of `src` as JavaScript, for tests that start it dozens of times: read as TypeScript by tsx, as `npm start`
 * does, each start takes four times as long. Compiled by the first who asks in a run.
 */
export function compiled(program: (typeof PROGRAMS)[number]): string {
  const folder = compiledFolder(inject('testServerDoor'));
  if (!existsSync(folder)) {
    const made = `${folder}.${process.pid}`;
    compile(made);
    try {
      renameSync(made, folder);
    } catch {
      // another worker was faster
      rmSync(made, { recursive: true });
    }
  }
  return path.join(folder, 'src', program.replace(/\.ts$/, '.js'));
}
