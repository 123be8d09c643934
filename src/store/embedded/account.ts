import { readFileSync } from 'node:fs';
import { stat } from 'node:fs/promises';

/** The operating-system account that PostgreSQL runs as; undefined means: as whoever runs this process. */
export interface Account {
  uid: number;
  gid: number;
}

interface KnownAccount extends Account {
  name: string;
}

function knownAccounts(): KnownAccount[] {
  const lines = readFileSync('/etc/passwd', 'utf8').split('\n');
  return lines.flatMap((line) => {
    const [name, , uid, gid] = line.split(':');
    return name && uid && gid ? [{ name, uid: Number(uid), gid: Number(gid) }] : [];
  });
}

/**
 * PostgreSQL refuses to run as root, so root lends it an account. A folder that an ordinary account made is run as
 * that account, so that its owner can go on using it; otherwise it is "nobody", who exists on every Unix and owns
 * nothing. Only known accounts will do, because initdb looks its own name up.
 */
export async function chooseAccount(folders: readonly string[]): Promise<Account | undefined> {
  if (process.getuid?.() !== 0) return undefined;
  const accounts = knownAccounts();
  for (const folder of folders) {
    const owner = await stat(folder).catch(() => undefined);
    if (owner === undefined || owner.uid === 0) continue;
    if (accounts.some((account) => account.uid === owner.uid)) return { uid: owner.uid, gid: owner.gid };
  }
  const nobody = accounts.find((account) => account.name === 'nobody');
  if (nobody !== undefined) return { uid: nobody.uid, gid: nobody.gid };
  throw new Error(
    'PostgreSQL cannot run as root, and /etc/passwd has no account "nobody" to run it as. ' +
      'Start this server as an ordinary user, or set DATABASE_URL to a PostgreSQL server of your own.',
  );
}
