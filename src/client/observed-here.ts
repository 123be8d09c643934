import type { Observed } from '../protocol/record.ts';
import { type ClientContext, identityOf } from './context.ts';
import { LocalError } from './local-error.ts';

export interface ObservedOptions {
  /** When it was seen; now if missing. */
  readonly at?: string;
  readonly captured?: Observed['captured'];
  /** Who read the instrument, where one reads and the other types; the person at the device if missing. */
  readonly readBy?: string;
}

/** When, how and by whom an observation was made: as a rule at the well, now, by the person at the device. */
export async function observedHere(context: ClientContext, options: ObservedOptions = {}): Promise<Observed> {
  const { person } = await identityOf(context.store);
  if (person === null) throw new LocalError('nobody_here', 'nobody is signed on at this device: say who types first');
  const now = context.time.wall();
  const { at = now, captured = 'at-the-well', readBy = person } = options;
  return { at, entered: now, captured, readBy, writtenBy: person };
}
