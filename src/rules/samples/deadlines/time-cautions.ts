import { instantMs } from '../../../science/instant-ms.ts';
import { NOTED_DIFFERENCE_MS } from '../../clock-correction.ts';
import { listText } from '../../flags/list-text.ts';
import { wallClock } from '../wall-clock.ts';
import type { ContainerClocks } from './container-clocks.ts';

/**
 * What is to be said of the time from which the limits of a container count: that it is not the recorded one, or that
 * the recorded one cannot be.
 *
 * @param now by the clock of the server
 */
export function timeCautions(of: ContainerClocks, now: string, timeZone: string): readonly string[] {
  const { collectedAt, start } = of;
  if (collectedAt === null || start === null) return [];
  const told: string[] = [];
  const [at, from] = [wallClock(collectedAt, timeZone), wallClock(start.countsFrom, timeZone)];
  if (start.laterMinutes !== null)
    told.push(
      `The time of its collection, ${at}, is ${start.laterMinutes} minutes later than its record, by the clock of the server: the clock of the phone was ahead, or the time is wrong. Its limits count from the record, ${from}; correct the time.`,
    );
  if (start.behindMinutes !== null)
    told.push(
      `The clock of the phone was ${start.behindMinutes} minutes behind: it may have been collected that much later than ${at}. Its limits count from the earlier time.`,
    );
  if (instantMs(start.countsFrom) > instantMs(now) + NOTED_DIFFERENCE_MS)
    told.push(
      `It was collected at ${at}, as recorded, which is still to come: it is ${wallClock(now, timeZone)}. Its limits end earlier than told here; correct the time.`,
    );
  return told;
}

/** Of many containers: a sentence that several have is told once, with their labels. */
export function cautionsOfMany(
  containers: readonly ContainerClocks[],
  now: string,
  timeZone: string,
): readonly string[] {
  const labels = new Map<string, string[]>();
  for (const one of containers) {
    for (const sentence of timeCautions(one, now, timeZone)) {
      const its = labels.get(sentence);
      if (its) its.push(one.container.fields.label);
      else labels.set(sentence, [one.container.fields.label]);
    }
  }
  return [...labels].map(([sentence, its]) => `${listText(its.toSorted())}: ${sentence}`);
}
