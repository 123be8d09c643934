import { type SyncReport, syncOnce } from '../../client/sync.ts';
import type { Problem } from '../../client/transport.ts';
import type { Trouble } from '../../client/troubles.ts';
import { counted } from './counted.ts';
import { rememberNumbers } from './kept-numbers.ts';
import type { Crew } from './open-crew.ts';

const ADVICE: Readonly<Record<string, string>> = {
  no_answer: 'Nothing is lost: go on working, and sync again where there is a signal',
  unauthorized: 'The token is not taken: ask the office for a new one, then crew join URL TOKEN; the records stay',
  busy: 'The server is busy: sync again in a minute',
};

function problemLine({ code, detail, status }: Problem): string {
  const known = ADVICE[code] ?? (status === 401 ? ADVICE.unauthorized : status === 503 ? ADVICE.busy : undefined);
  return `not complete: ${detail}. ${known ?? 'The records stay here: tell the office if it goes on'}`;
}

const VERSIONS: Readonly<Record<string, string>> = {
  newer: 'the server is newer than this program: it may show less than there is; update it',
  older: 'the server is older than this program: it keeps what it cannot read until it is brought up to date',
};

/** What was handed in is not what was taken: nobody at the other phone looks at it any more. */
function carriedLines({ pushed, notTaken }: SyncReport['carried']): string[] {
  if (pushed === 0) return [];
  const handed = `handed in ${counted(pushed, 'record')} of other phones`;
  if (notTaken === 0) return [handed];
  return [`${handed}, ${notTaken} of which the server set aside or refused: tell the office, which sees them`];
}

/** What the office released since the last sync, by the number that was said when it was kept. */
async function released(crew: Crew, before: readonly Trouble[]): Promise<string[]> {
  const now = new Set((await crew.client.troubles()).map(({ sequence }) => sequence));
  return before
    .filter(({ sequence, outcome }) => outcome.outcome === 'set_aside' && !now.has(sequence))
    .map(
      ({ sequence, mutation }) =>
        `number ${sequence}, ${mutation.verb} ${mutation.kind}, was set aside: released, it counts now`,
    );
}

function extras(report: SyncReport): string[] {
  const { resets, replayed, repaired, differing, dropped, carried, newIdentities, restored, serverVersion } = report;
  const version = VERSIONS[serverVersion ?? ''];
  return [
    ...(version === undefined ? [] : [version]),
    ...(resets.length > 0 ? [`pulled from the beginning: ${resets.map(({ feed }) => feed).join(', ')}`] : []),
    ...(replayed > 0 ? [`the server had lost ${counted(replayed, 'record')} of this device, sent again now`] : []),
    ...(repaired.length > 0 ? [`differences found and put right in ${repaired.join(', ')}`] : []),
    ...(differing.length > 0 ? [`still different from the server: ${differing.join(', ')}; tell the office`] : []),
    ...(dropped.length > 0 ? [`no longer followed: ${dropped.join(', ')}`] : []),
    ...(restored ? ['another device wrote under the same number; this one has its own now'] : []),
    ...(newIdentities > 0 && !restored ? ['this device numbers its records anew from here; none is sent twice'] : []),
    ...carriedLines(carried),
    ...(carried.renumbered > 0
      ? [`another phone has used the numbers of ${counted(carried.renumbered, 'carried record')}, numbered anew now`]
      : []),
    ...(carried.problem ? [`copies of other phones: ${problemLine(carried.problem)}`] : []),
  ];
}

/** True when it is complete. */
export async function sync(crew: Crew): Promise<boolean> {
  await rememberNumbers(crew);
  const before = await crew.client.troubles();
  const report = await syncOnce(crew.client);
  const { pushed, pulled, unsent, problem } = report;
  crew.say(`sent ${pushed}, got ${pulled}, unsent ${unsent.count}`);
  for (const line of extras(report)) crew.say(line);
  for (const line of await released(crew, before)) crew.say(line);
  const aside = report.outcomes.filter(({ outcome }) => outcome === 'set_aside' || outcome === 'refused').length;
  if (aside > 0) crew.say(`${aside} set aside or refused: crew status`);
  if ((await crew.client.conflicts()).length > 0) crew.say('conflicts are open: crew conflicts');
  if (problem) crew.say(problemLine(problem));
  return problem === null;
}
