import { readFile } from 'node:fs/promises';
import path from 'node:path';

/** What a PostgreSQL server writes about itself into its data folder (postmaster.pid, one fact a line). */
export interface PostmasterFile {
  pid: number;
  socketFolder: string;
  socketNumber: number;
  status: string;
}

/** Read only: PostgreSQL alone may write or remove this file, or two servers end up on one folder. */
export async function readPostmasterFile(cluster: string): Promise<PostmasterFile | undefined> {
  const text = await readFile(path.join(cluster, 'postmaster.pid'), 'utf8').catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return undefined;
    throw error;
  });
  const [pid, , , port, socketFolder, , , status] = (text ?? '').split('\n');
  if (!pid) return undefined;
  return {
    pid: Math.abs(Number(pid)),
    socketFolder: socketFolder ?? '',
    socketNumber: Number(port ?? 0),
    status: status?.trim() ?? '',
  };
}
