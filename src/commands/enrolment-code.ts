import { allFirms } from '../each-firm.ts';
import type { Store } from '../start.ts';
import { CODE_MINUTES } from '../store/enrolment-secret.ts';
import type { ListedFirm } from '../store/read/firm-list.ts';
import { recordById } from '../store/read/records.ts';
import { type EnrolmentWish, makeEnrolmentCode } from '../writes/enrol.ts';
import { type Command, say, UsageError, withStore } from './command.ts';

type Role = EnrolmentWish['role'];

const OF_NO_DEVICE: readonly string[] = ['admin', 'coordinator', 'dashboard'] satisfies Role[];
const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/;

async function firmNamed(store: Store, given: string | undefined): Promise<ListedFirm> {
  if (!given) throw new UsageError('enrolment-code needs --firm "NAME", or the id of the firm');
  const found = (await allFirms(store.database)).filter((firm) => firm.name === given || firm.id === given);
  if (found.length > 1) throw new UsageError(`${found.length} firms are called ${given}: give the id of one`);
  const [firm] = found;
  if (!firm) throw new UsageError(`there is no firm ${given}`);
  return firm;
}

interface For {
  readonly role: Role;
  readonly device: string | null;
}

/** A role that speaks for no device, or the device of a crew. */
async function whoFor({ ctx }: Store, firm: string, given: string | undefined): Promise<For> {
  if (given === undefined) return { role: 'admin', device: null };
  if (OF_NO_DEVICE.includes(given)) return { role: given as Role, device: null };
  const found = UUID.test(given) ? await ctx.records.read(firm, (tx) => recordById(tx, given)) : null;
  if (found?.state.kind === 'device') return { role: 'crew', device: given };
  throw new UsageError(`${given} is no device of the firm, and none of the roles ${OF_NO_DEVICE.join(', ')}`);
}

/** Prints a code with which a phone or a computer gets its token; the first of a firm that has lost all its tokens, too. */
export const enrolmentCode: Command = (given) =>
  withStore(given, async (store) => {
    const firm = await firmNamed(store, given.options.firm);
    const { role, device } = await whoFor(store, firm.id, given.rest[0]);
    const wish = { role, device, label: 'From the command line', crew: null, person: null, madeBy: null };
    const { code } = await makeEnrolmentCode(store.ctx.pool, firm.id, { ...wish, minutes: CODE_MINUTES }, given.now());
    say(`code  ${code}`, `valid ${CODE_MINUTES} minutes, once, for ${device === null ? role : `device ${device}`}`);
  });
