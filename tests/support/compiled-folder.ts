import path from 'node:path';

export const ROOT = path.join(import.meta.dirname, '../..');

/** Within node_modules, so that what is compiled finds the packages where the sources do. */
const FOLDER = path.join(ROOT, 'node_modules/.cache/wellround-tests');

/**
 * Where the programs are that one run of the tests has compiled.
 *
 * @param door the socket of the run
 */
export function compiledFolder(door: string): string {
  return path.join(FOLDER, path.basename(path.dirname(door)));
}
