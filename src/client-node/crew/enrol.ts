import { randomBytes } from 'node:crypto';
import { mkdir, open, readFile, rename, rm } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { z } from 'zod';
import { enrol, newTokenSecret } from '../../client/enrol.ts';
import { syncFolder } from '../journal-file.ts';
import { CrewError } from './crew-error.ts';
import { join } from './join.ts';
import { nodeFetch } from './node-device.ts';
import type { Say } from './open-crew.ts';

const pending = z.strictObject({ url: z.string(), code: z.string(), secret: z.string() });
type Pending = z.output<typeof pending>;

function fileIn(folder: string): string {
  return path.join(folder, 'enrolment.json');
}

async function readPending(folder: string): Promise<Pending | null> {
  try {
    return pending.parse(JSON.parse(await readFile(fileIn(folder), 'utf8')));
  } catch {
    return null;
  }
}

/** On the disk before it is sent: should the answer be lost, or this program end, the next try is the same one. */
async function keepPending(folder: string, value: Pending): Promise<void> {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const file = fileIn(folder);
  const handle = await open(`${file}.next`, 'w', 0o600);
  await handle.writeFile(`${JSON.stringify(value)}\n`);
  await handle.sync();
  await handle.close();
  await rename(`${file}.next`, file);
  await syncFolder(folder);
}

/** The code decides whether it is the same try, however it was typed this time. */
function sameCode(one: string, other: string): boolean {
  const plain = (code: string) => code.toUpperCase().replace(/[\s-]/g, '');
  return plain(one) === plain(other);
}

async function secretFor(folder: string, url: string, code: string): Promise<string> {
  const before = await readPending(folder);
  if (before && before.url === url && sameCode(before.code, code)) return before.secret;
  const secret = newTokenSecret((count) => randomBytes(count));
  await keepPending(folder, { url, code, secret });
  return secret;
}

/** Puts this folder under the token that a code gives; what was recorded here before stays and is sent under it. */
export async function enrolCrew(folder: string, url: string, code: string, say: Say): Promise<boolean> {
  const secret = await secretFor(folder, url, code);
  const answer = await enrol({ base: url, fetch: nodeFetch }, { code, label: os.hostname() || 'computer', secret });
  if (!answer.ok) {
    const again =
      answer.problem.status === null ? 'the same command once more goes on from here' : 'nothing was changed';
    throw new CrewError(`${url} did not take the code: ${answer.problem.detail}; ${again}`);
  }
  const complete = await join(folder, url, secret, say);
  await rm(fileIn(folder), { force: true });
  return complete;
}
