import { readFileSync } from 'node:fs';

export const isRoot = process.getuid?.() === 0;

/** An account that exists on every Unix, is not root, and is not the one that root lends to PostgreSQL. */
export function ordinaryAccount(): { uid: number; gid: number } | undefined {
  for (const line of readFileSync('/etc/passwd', 'utf8').split('\n')) {
    const [name, , uid, gid] = line.split(':');
    if (name === 'newcomer' || name === 'daemon') return { uid: Number(uid), gid: Number(gid) };
  }
  return undefined;
}
