import type { Captured } from '../../client/capture.ts';
import { type PurgePreview, previewPurge, type VisitPreview } from '../../client/preview.ts';
import { previewFlags } from '../../client/preview-flags.ts';
import type { Crew } from './open-crew.ts';

/** A crew with cold hands reads two lines. */
const MOST_QUESTIONS = 2;

/** What the rules ask because of what was just kept, while the value can still be looked at. */
export async function askNow(crew: Crew, captured: Captured): Promise<void> {
  const flags = await previewFlags(crew.client, captured).catch((error: Error) => error);
  // The record is on the disk: that a question could not be made must not look as if it were not.
  if (flags instanceof Error) return crew.say(`(what the rules ask of it could not be told: ${flags.message})`);
  if (flags === null) return;
  const now = [...flags.now, ...flags.again.filter(({ addressee }) => addressee === 'now')];
  for (const { sentence } of now.slice(0, MOST_QUESTIONS)) crew.say(`question  ${sentence}`);
  if (now.length > MOST_QUESTIONS) crew.say(`question  and ${now.length - MOST_QUESTIONS} more: crew status`);
  if (now.length > 0) crew.say(`          kept as it is; if it was a slip: crew correct ${captured.sequence} ...`);
  for (const { sentence } of flags.cleared) crew.say(`answered  ${sentence}`);
}

/** True at most visits and of little weight for whether the water is stable: not said each time. */
const OF_EVERY_DAY: readonly string[] = ['clock', 'former-values'];

function timeOf(at: string | undefined): string {
  return at === undefined ? '' : ` since ${at.slice(11, 16)}`;
}

/** Stable or not, and what is missing, as this device has it; empty while nothing can be said. */
export function standingLines({ assessment, ahead, notLookedAt }: PurgePreview): string[] {
  const here = assessment?.here;
  const missing = notLookedAt.filter(({ what }) => !OF_EVERY_DAY.includes(what));
  const apart = missing.map(({ sentence }) => `  not looked at: ${sentence}`);
  if (!here) return apart;
  const stands = here.stable ? `stable${timeOf(here.firstHeldAt)}` : 'not stable yet';
  const differs = assessment.server !== null && assessment.server.stable !== here.stable;
  const word = assessment.server?.stable ? 'stable' : 'not stable';
  return [
    stands,
    ...here.missing.map((sentence) => `  ${sentence}`),
    ...(differs ? [`  the server's last word was ${word}. ${ahead.sentence}`] : []),
    ...apart,
  ];
}

export async function standingOf(crew: Crew, purge: string): Promise<string[]> {
  return standingLines(await previewPurge(crew.client, purge));
}

/** The questions that stand at a visit. */
export function openQuestions({ flags }: VisitPreview): string[] {
  const raised = flags.flatMap(({ here }) => (here?.standing === 'raised' ? [here] : []));
  return raised.map(({ addressee, sentence }) => `${addressee.padEnd(8)} ${sentence}`);
}
