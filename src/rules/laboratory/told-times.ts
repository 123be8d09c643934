import { instantMs } from '../../science/instant-ms.ts';
import type { EventSamples } from '../samples/event-samples.ts';
import { toldTime } from '../samples/told-to-laboratory.ts';

/** Of each sample and blank, the time that a laboratory is told; looked up once, since a round has thousands of bottles. */
export function toldTimes(of: EventSamples): ReadonlyMap<string, string> {
  const times = new Map<string, string>();
  for (const one of [...of.samples, ...of.blanks]) {
    const told = toldTime(one, of);
    if (told !== null) times.set(one.id, told);
  }
  return times;
}

/** A time told by a person may be later than the collection; a clock then runs from the collection. */
function clockTimes(of: EventSamples, times: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  const own = new Map([...of.samples, ...of.blanks].map(({ id, fields }) => [id, fields.collected]));
  return new Map(
    [...times].map(([id, told]) => {
      const collected = own.get(id) ?? told;
      return [id, instantMs(collected) < instantMs(told) ? collected : told];
    }),
  );
}

/**
 * The samples of an event with the times that a laboratory is told in place of those of the field, so that a deadline which is
 * computed from them says no more than the label does: counted from its own fills, the clock of a blind duplicate would
 * tell when its parent was taken. A told time that is later than the true one gives way to it, so that no clock runs late.
 */
export function withToldTimes(of: EventSamples, told = toldTimes(of)): EventSamples {
  const times = clockTimes(of, told);
  const holders = new Map(of.containers.map(({ id, fields }) => [id, fields.sample ?? fields.blank]));
  return {
    ...of,
    // a told time is not of a phone; and which samples came from one phone, by its clock, would pair those of a visit
    blanks: of.blanks.map((one) => ({ ...one, clock: null })),
    samples: of.samples.map((one) => ({
      ...one,
      clock: null,
      fields: { ...one.fields, collected: times.get(one.id) ?? one.fields.collected },
    })),
    fills: of.fills.flatMap((one) => {
      const collected = times.get(holders.get(one.fields.container) ?? '');
      return collected === undefined ? [] : [{ ...one, clock: null, fields: { ...one.fields, collected } }];
    }),
  };
}
