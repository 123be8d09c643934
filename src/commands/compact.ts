import { retentionFrom } from '../retention.ts';
import { compact } from '../writes/compact.ts';
import { type Command, called, counted, say, throughFirms, UsageError, withStore } from './command.ts';

/** Drops what says that a record left a feed long ago, as the server does once a day. */
export const compactNow: Command = (given) => {
  const { RETENTION_DAYS: days } = given.config;
  if (days === 'off') {
    throw new UsageError('RETENTION_DAYS is off: what left a feed is kept for ever. Give a number of days, 1 or more.');
  }
  return withStore(given, async (store) => {
    const firms = await throughFirms(store, async (firm) => {
      const { rows, feeds } = await compact(store.ctx.pool, firm.id, retentionFrom(days, store.ctx.now));
      say(`${called(firm)}: ${counted(rows, 'row')} dropped in ${counted(feeds, 'feed')}`);
    });
    say(`${firms}, what left a feed more than ${counted(days, 'day')} ago`);
  });
};
