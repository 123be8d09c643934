import { allFirms } from '../each-firm.ts';
import type { Store } from '../start.ts';
import { setUpFirm } from '../writes/set-up-firm.ts';
import { type Command, say, UsageError, withNewStore } from './command.ts';

/** Whoever runs it twice wants the token once more, or did not see that it had worked. */
async function mustBeNew({ database }: Store, name: string): Promise<void> {
  const same = (await allFirms(database)).filter((firm) => firm.name === name);
  if (same.length === 0) return;
  const ids = same.map(({ id }) => id).join(', ');
  throw new Error(
    `There is a firm ${JSON.stringify(name)} already: ${ids}. Nothing was entered. A token of it is had by a code (npm run ` +
      `cli -- enrolment-code --firm ${same[0]?.id}); for another firm of the same name add --again.`,
  );
}

/** Enters a firm, and prints its first administrator token. */
export const init: Command = async (given) => {
  const { firm: name, again } = given.options;
  if (!name) throw new UsageError('init needs --firm "NAME"');
  await withNewStore(given, async (store) => {
    const { pool, lane, now } = store.ctx;
    if (!again) await mustBeNew(store, name);
    const { firm, admin } = await setUpFirm(pool, lane, name, now());
    say(`firm  ${firm}`, `token ${admin.secret}`);
  });
};
