import type { Logger } from 'pino';
import { type SetBack, setBackSince } from './store/access-after-restore.ts';
import type { Database } from './store/connections.ts';

const DAY_MS = 86_400_000;

/** Common practice, no source: a month in which somebody looked, or never will. */
export const LOOK_FOR_DAYS = 30;

/** What a database that was set back cannot know of who may come in. */
export function revokedSince({ backupMadeAt }: Pick<SetBack, 'backupMadeAt'>): string {
  const time = backupMadeAt === null ? 'the time that the data is of' : backupMadeAt;
  return (
    `Tokens that were revoked or issued after ${time} are as they were then: one that was revoked works again, and one ` +
    'that was issued is not known. Enrolment codes likewise.'
  );
}

export const WHAT_TO_DO =
  'Look at the tokens that work (doctor lists them, GET /v1/tokens too) and revoke again (POST /v1/tokens/ID/revoke).';

/** Said at every start in the month after the data was set back. */
export async function noteSetBack(database: Pick<Database, 'owner'>, now: Date, log: Logger): Promise<void> {
  const owner = await database.owner();
  const since = new Date(now.getTime() - LOOK_FOR_DAYS * DAY_MS).toISOString();
  const setBack = await setBackSince(owner, since).finally(() => owner.end());
  if (setBack !== null) log.warn(setBack, `The data was set back. ${revokedSince(setBack)} ${WHAT_TO_DO}`);
}
