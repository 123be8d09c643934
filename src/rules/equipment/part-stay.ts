import type { PartType } from '../../protocol/kinds/part.ts';
import { instantMs } from '../../science/instant-ms.ts';
import type { Contact } from './contact.ts';
import type { PartChangeRecord } from './equipment-records.ts';
import { isNextOfOwn, type Moment } from './moment.ts';

/** A soft part on a unit, from when until when. */
export interface PartStay {
  readonly part: string;
  readonly type: PartType | null;
  readonly unit: string;
  readonly from: Moment;
  /** Null while it is on. */
  readonly until: Moment | null;
  readonly endedBy: Exclude<PartChangeRecord['fields']['action'], 'installed'> | 'replaced' | 'moved-on' | null;
  /** It took the place of a part that had met water: while that one was in a well, this one was not. */
  readonly isReplacement: boolean;
}

/** Within one minute it was off first, unless one device recorded it the other way round. */
export function isOffBefore({ until }: PartStay, moment: Moment): boolean {
  return until !== null && until.ms <= moment.ms && !isNextOfOwn(until, moment);
}

const secondMs = ({ at, addMs }: Moment) => instantMs(at) + addMs;

/** Put on within the minute in which the unit came out, by times that have seconds: nothing goes on a pump in a well. */
function cameOnAfter({ from }: PartStay, { until }: Contact): boolean {
  return until !== null && from.ms === until.ms && secondMs(from) > secondMs(until);
}

/** Whether the part was on the unit while it was at this well. */
export function isOnDuring(stay: PartStay, contact: Contact): boolean {
  if (contact.how === 'beside-the-well') return false;
  if (isOffBefore(stay, contact.from) || cameOnAfter(stay, contact)) return false;
  // read now and then, it counts from its first reading: later ones change nothing of what it carried then
  if (stay.isReplacement || contact.isNowAndThen)
    return stay.from.ms <= contact.from.ms && !isNextOfOwn(stay.from, contact.from);
  return contact.until === null || stay.from.ms <= contact.until.ms;
}

export function isOnAt(stay: PartStay, { ms }: Moment): boolean {
  return stay.from.ms <= ms && (stay.until === null || stay.until.ms > ms);
}
