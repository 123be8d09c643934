import { type SyncReport, syncOnce } from '../../client/sync.ts';
import type { Problem } from '../../client/transport.ts';
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

function extras(report: SyncReport): string[] {
  const { resets, replayed, repaired, differing, dropped, carried, newIdentities, restored, serverVersion } = report;
  const version = VERSIONS[serverVersion ?? ''];
  return [
    ...(version === undefined ? [] : [version]),
    ...(resets.length > 0 ? [`pulled from the beginning: ${resets.map(({ feed }) => feed).join(', ')}`] : []),
    ...(replayed > 0 ? [`the server had lost ${replayed} records of this device; they were sent again`] : []),
    ...(repaired.length > 0 ? [`differences found and put right in ${repaired.join(', ')}`] : []),
    ...(differing.length > 0 ? [`still different from the server: ${differing.join(', ')}; tell the office`] : []),
    ...(dropped.length > 0 ? [`no longer followed: ${dropped.join(', ')}`] : []),
    ...(restored ? ['another device wrote under the same number; this one has its own now'] : []),
    ...(newIdentities > 0 && !restored ? ['this device numbers its records anew from here; none is sent twice'] : []),
    ...(carried.pushed > 0 ? [`handed in ${carried.pushed} records of other phones`] : []),
    ...(carried.renumbered > 0
      ? [`another phone has used the numbers of ${carried.renumbered} carried records; they were numbered anew`]
      : []),
    ...(carried.problem ? [`copies of other phones: ${problemLine(carried.problem)}`] : []),
  ];
}

/** True when it is complete. */
export async function sync(crew: Crew): Promise<boolean> {
  await rememberNumbers(crew);
  const report = await syncOnce(crew.client);
  const { pushed, pulled, unsent, problem } = report;
  crew.say(`sent ${pushed}, got ${pulled}, unsent ${unsent.count}`);
  for (const line of extras(report)) crew.say(line);
  const aside = report.outcomes.filter(({ outcome }) => outcome === 'set_aside' || outcome === 'refused').length;
  if (aside > 0) crew.say(`${aside} set aside or refused: crew status`);
  if ((await crew.client.conflicts()).length > 0) crew.say('conflicts are open: crew conflicts');
  if (problem) crew.say(problemLine(problem));
  return problem === null;
}
