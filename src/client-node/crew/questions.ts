import type { Captured } from '../../client/capture.ts';
import { equipmentQuestions } from '../../client/equipment/equipment-questions.ts';
import { previewFlags } from '../../client/preview/flags.ts';
import { type PurgePreview, previewPurge, type VisitPreview } from '../../client/preview/preview.ts';
import { field, live } from './find.ts';
import type { Crew } from './open-crew.ts';

/** A crew with cold hands reads two lines. */
const MOST_QUESTIONS = 2;

interface Asked {
  readonly now: readonly string[];
  readonly cleared: readonly string[];
  /** For the evening: said at once only where the work at the well ends. */
  readonly later: readonly string[];
}

const sentences = (asked: readonly { readonly sentence: string }[]) => asked.map(({ sentence }) => sentence);

async function ofVisit(crew: Crew, captured: Captured): Promise<Asked> {
  const flags = await previewFlags(crew.client, captured);
  if (flags === null) return { now: [], cleared: [], later: [] };
  const again = flags.again.filter(({ addressee }) => addressee === 'now');
  return {
    now: sentences([...flags.now, ...again]),
    cleared: sentences(flags.cleared),
    later: sentences(flags.later.filter(({ addressee }) => addressee === 'tonight')),
  };
}

async function ofEquipment(crew: Crew, captured: Captured): Promise<Asked> {
  const asked = await equipmentQuestions(crew.client, captured);
  if (asked === null) return { now: [], cleared: [], later: [] };
  return {
    now: [...sentences(asked.now), ...asked.parts],
    // what a record lacked while it was being written was never asked
    cleared: sentences(asked.cleared.filter(({ subject }) => subject !== captured.id)),
    later: sentences(asked.later.filter(({ addressee }) => addressee === 'tonight')),
  };
}

/** The record is on the disk: that a question could not be made must not look as if it were not. */
async function orSay(crew: Crew, asking: Promise<Asked>): Promise<Asked> {
  return asking.catch((error: Error) => {
    crew.say(`(what the rules ask of it could not be told: ${error.message})`);
    return { now: [], cleared: [], later: [] };
  });
}

/** What the rules ask because of what was just kept, while it can still be looked at or mended. */
export async function askNow(crew: Crew, captured: Captured): Promise<Asked> {
  const [visit, equipment] = [
    await orSay(crew, ofVisit(crew, captured)),
    await orSay(crew, ofEquipment(crew, captured)),
  ];
  const now = [...visit.now, ...equipment.now];
  const cleared = [...visit.cleared, ...equipment.cleared];
  for (const sentence of now.slice(0, MOST_QUESTIONS)) crew.say(`question  ${sentence}`);
  if (now.length > MOST_QUESTIONS) crew.say(`question  and ${now.length - MOST_QUESTIONS} more: crew status`);
  if (now.length > 0) crew.say(`          kept as it is; if it was a slip: crew correct ${captured.sequence} ...`);
  for (const sentence of cleared) crew.say(`answered  ${sentence}`);
  return { now, cleared, later: [...visit.later, ...equipment.later] };
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

/** The purges that a call or the end of a visit speaks of. */
async function purgesOf(crew: Crew, id: string): Promise<readonly string[]> {
  const record = (await crew.client.one(id))?.record;
  if (record?.kind === 'call') return [field(record, 'purge')];
  return (await live(crew, 'purge')).filter((purge) => field(purge, 'visit') === id).map((purge) => purge.id);
}

/** How the water stands by the rules when the crew has decided, or goes: "rules    stable since 09:41". */
export async function standingAfter(crew: Crew, { id }: Captured): Promise<string[]> {
  const all = await Promise.all((await purgesOf(crew, id)).map((purge) => standingOf(crew, purge)));
  return all.flatMap((lines) => lines.map((line, at) => `${at === 0 ? 'rules    ' : '         '} ${line}`));
}
