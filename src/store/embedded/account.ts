import { readFileSync } from 'node:fs';
import { stat } from 'node:fs/promises';

/** The operating-system account that PostgreSQL runs as; undefined means: as whoever runs this process. */
export interface Account {
  uid: number;
  gid: number;
}

function existingAccount(name: string): Account | undefined {
  for (const line of readFileSync('/etc/passwd', 'utf8').split('\n')) {
    const [login, , uid, gid] = line.split(':');
    if (login === name && uid !== undefined && gid !== undefined) return { uid: Number(uid), gid: Number(gid) };
  }
  return undefined;
}

/**
 * PostgreSQL refuses to run as root, so root lends it an account that exists on every Unix and owns nothing.
 * A database that an ordinary account made is run as that account, so that its owner can go on using it.
 */
export async function chooseAccount(cluster: string): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const owner = await stat(cluster).catch(() => undefined);
  if (owner !== undefined && owner.uid !== 0) return { uid: owner.uid, gid: owner.gid };
  const nobody = existingAccount('nobody');
  if (nobody !== undefined) return nobody;
  throw new Error(
    'PostgreSQL cannot run as root, and /etc/passwd has no account "nobody" to run it as. ' +
      'Start this server as an ordinary user, or set DATABASE_URL to a PostgreSQL server of your own.',
  );
}
