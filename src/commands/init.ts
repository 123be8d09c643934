import { setUpFirm } from '../writes/set-up-firm.ts';
import { type Command, say, UsageError, withStore } from './command.ts';

/** Enters a firm, and prints its first administrator token. */
export const init: Command = async (given) => {
  const { firm: name } = given.options;
  if (!name) throw new UsageError('init needs --firm "NAME"');
  await withStore(given, async ({ ctx }) => {
    const { firm, admin } = await setUpFirm(ctx.pool, ctx.lane, name, ctx.now());
    say(`firm  ${firm}`, `token ${admin.secret}`);
  });
};
