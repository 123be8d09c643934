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

/**
 * The samples of an event with the times that a laboratory is told in place of those of the field, so that a deadline which is
 * computed from them says no more than the label does: counted from its own fills, the clock of a blind duplicate would
 * tell when its parent was taken. A made time is never later than the true one, so that no clock runs late.
 */
export function withToldTimes(of: EventSamples, times = toldTimes(of)): EventSamples {
  const holders = new Map(of.containers.map(({ id, fields }) => [id, fields.sample ?? fields.blank]));
  return {
    ...of,
    samples: of.samples.map((one) => ({
      ...one,
      fields: { ...one.fields, collected: times.get(one.id) ?? one.fields.collected },
    })),
    fills: of.fills.flatMap((one) => {
      const collected = times.get(holders.get(one.fields.container) ?? '');
      return collected === undefined ? [] : [{ ...one, fields: { ...one.fields, collected } }];
    }),
  };
}
