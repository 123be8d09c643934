import type { StoreLog } from '../../src/store/log.ts';

const show = (details: object, message: string): void => console.warn(message, JSON.stringify(details));

/** Only what went wrong; progress would bury it. */
export const testLog: StoreLog = { info: () => undefined, warn: show, error: show };

/** Where a test breaks connections by intent, their loss is no news. */
export const quietLog: StoreLog = { info: () => undefined, warn: () => undefined, error: () => undefined };
