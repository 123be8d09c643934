import { createHmac } from 'node:crypto';

/**
 * A secret of one firm for what laboratories are told, out of the key of the installation: no two firms have the same, and
 * none is kept anywhere. A backup that is restored elsewhere brings another one, as it brings other cursors.
 */
export function firmSecret(key: Buffer, firm: string): Buffer {
  return createHmac('sha256', key).update(`laboratory\n${firm}`).digest();
}
