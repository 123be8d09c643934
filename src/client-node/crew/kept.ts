import type { Captured } from '../../client/capture.ts';
import type { Crew } from './open-crew.ts';
import { askNow, standingAfter } from './questions.ts';
import { people } from './show.ts';

async function keptAndAsked(crew: Crew, capturing: Promise<Captured>) {
  const captured = await capturing;
  crew.say(`kept as number ${captured.sequence} (${captured.id}); ${await people(crew)}`);
  return { captured, asked: await askNow(crew, captured) };
}

/** Says that it is on the disk, and then what the rules ask of it. */
export async function kept(crew: Crew, capturing: Promise<Captured>): Promise<Captured> {
  return (await keptAndAsked(crew, capturing)).captured;
}

/** A crew that is about to go reads more than one at the well, and no book. */
const MOST_LATER = 4;

/**
 * After a decision about the water, or at the end of a visit: how it stands by the rules, whatever the person decided, and
 * what will be asked in the evening.
 */
export async function keptAndWeighed(crew: Crew, capturing: Promise<Captured>): Promise<void> {
  const { captured, asked } = await keptAndAsked(crew, capturing);
  for (const line of await standingAfter(crew, captured)) crew.say(line);
  for (const sentence of asked.later.slice(0, MOST_LATER)) crew.say(`tonight   ${sentence}`);
  if (asked.later.length > MOST_LATER) crew.say(`tonight   and ${asked.later.length - MOST_LATER} more: crew status`);
}
