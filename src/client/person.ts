import { id } from '../protocol/primitives.ts';
import { type ClientContext, identityOf } from './context.ts';
import { LocalError } from './local-error.ts';

/** Who is at the device from now on; null for nobody. The device, its client id and its outbox stay what they are. */
export function setPerson(context: ClientContext, member: string | null): Promise<void> {
  return context.exclusive(async () => {
    if (member !== null && !id.safeParse(member).success) {
      throw new LocalError('unreadable_person', `a member is named by a UUID, but "${member}" was given`);
    }
    const identity = await identityOf(context.store);
    await context.store.commit([{ put: 'identity', identity: { ...identity, person: member } }]);
  });
}
