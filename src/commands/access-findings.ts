import { LOOK_FOR_DAYS, revokedSince, WHAT_TO_DO } from '../set-back-note.ts';
import type { LiveAccess, LiveToken, SetBack } from '../store/access-after-restore.ts';
import type { Finding } from './findings.ts';

function tokenLine({ id, label, role, device, lastSyncedAt }: LiveToken): string {
  const where = device === null ? 'no device' : `device ${JSON.stringify(device)}`;
  return `${id} ${JSON.stringify(label)}, ${role}, ${where}, ${lastSyncedAt === null ? 'no sync on record' : `last synced ${lastSyncedAt}`}`;
}

/** Said for a month after the data was set back: none of the tokens is stopped, since crews have to sync then. */
export function accessFindings(setBack: SetBack | null, live: readonly LiveAccess[]): Finding[] {
  if (setBack === null) return [];
  const about = 'access';
  const says = `the data was set back at ${setBack.beganAt}. ${revokedSince(setBack)}`;
  return [
    { about, says, todo: `${WHAT_TO_DO} This is said for ${LOOK_FOR_DAYS} days.` },
    ...live.map(({ firm, name, tokens, codes }) => ({
      about: `access to firm ${firm} ${JSON.stringify(name)}`,
      says: [`tokens that work: ${tokens.length}; open enrolment codes: ${codes}`, ...tokens.map(tokenLine)].join(
        '\n       ',
      ),
    })),
  ];
}
