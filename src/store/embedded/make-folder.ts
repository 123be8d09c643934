import { mkdir } from 'node:fs/promises';
import path from 'node:path';

/**
 * Makes a folder and those above it. Node's own recursive way goes round for ever where a file system has the folder
 * above and lets nobody make one in it, as /proc does.
 */
export async function makeFolder(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST') return;
    const above = path.dirname(folder);
    if (code !== 'ENOENT' || above === folder) throw error;
    await makeFolder(above);
    await makeLast(folder);
  }
}

async function makeLast(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    // another process was faster
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
  }
}
