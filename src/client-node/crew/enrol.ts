import { randomBytes } from 'node:crypto';
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import path from 'node:path';
import { z } from 'zod';
import { enrol, newTokenSecret } from '../../client/enrol.ts';
import type { Problem } from '../../client/transport.ts';
import { plainEnrolmentCode } from '../../protocol/enrolment-code.ts';
import { syncFolder } from '../journal-file.ts';
import { CrewError } from './crew-error.ts';
import { join } from './join.ts';
import { type Device, nodeDevice } from './node-device.ts';
import type { Say } from './open-crew.ts';

const pendingTry = z.strictObject({ url: z.string(), code: z.string(), secret: z.string() });
const pending = z.strictObject({ tries: z.array(pendingTry) });
type Try = z.output<typeof pendingTry>;

function fileIn(folder: string): string {
  return path.join(folder, 'enrolment.json');
}

async function readTries(folder: string): Promise<readonly Try[]> {
  try {
    const value: unknown = JSON.parse(await readFile(fileIn(folder), 'utf8'));
    const single = pendingTry.safeParse(value);
    // one try was kept by itself before codes were told apart
    return single.success ? [single.data] : pending.parse(value).tries;
  } catch {
    return [];
  }
}

/** On the disk before it is sent: should the answer be lost, or this program end, the next try is the same one. */
async function keepTries(folder: string, tries: readonly Try[]): Promise<void> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const file = fileIn(folder);
  const handle = await open(`${file}.next`, 'w', 0o600);
  await handle.writeFile(`${JSON.stringify({ tries })}\n`);
  await handle.sync();
  await handle.close();
  await rename(`${file}.next`, file);
  await syncFolder(folder);
}

/**
 * The code decides whether it is the same try, however it was typed this time. Those of other codes are kept until one
 * of them has joined: each may be the only secret of a code that was used, while its answer was lost.
 */
async function secretFor(folder: string, url: string, code: string): Promise<string> {
  const tries = await readTries(folder);
  const isSame = (one: Try) => one.url === url && plainEnrolmentCode(one.code) === plainEnrolmentCode(code);
  const before = tries.find(isSame);
  if (before) return before.secret;
  const secret = newTokenSecret((count) => randomBytes(count));
  await keepTries(folder, [...tries, { url, code, secret }]);
  return secret;
}

/** Without an answer, and where the server fails in the middle of it, nobody knows whether the code was used. */
function whatNow({ status }: Problem): string {
  return status === null || status >= 500 ? 'the same command once more goes on from here' : 'nothing was changed';
}

export interface Code {
  readonly code: string;
  /** Where the crew calls the phone something else than the office did. */
  readonly label?: string | undefined;
}

/** Puts this folder under the token that a code gives; what was recorded here before stays and is sent under it. */
export async function enrolCrew(
  folder: string,
  url: string,
  { code, label }: Code,
  say: Say,
  on: Device = nodeDevice(),
): Promise<boolean> {
  const secret = await secretFor(folder, url, code);
  const answer = await enrol({ base: url, fetch: on.fetch }, { code, label, secret });
  if (!answer.ok) {
    throw new CrewError(`${url} did not take the code ${code}: ${answer.problem.detail}; ${whatNow(answer.problem)}`);
  }
  const complete = await join(folder, url, secret, say, on);
  await rm(fileIn(folder), { force: true });
  return complete;
}
