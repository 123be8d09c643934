import { mkdir } from 'node:fs/promises';
import { z } from 'zod';
import { CrewError } from './crew-error.ts';
import { sync } from './do-sync.ts';
import { type Device, nodeDevice } from './node-device.ts';
import { openCrew, type Say } from './open-crew.ts';
import { readSettings, writeSettings } from './settings.ts';
import { people } from './show.ts';

const me = z.looseObject({
  role: z.enum(['crew', 'coordinator', 'dashboard', 'admin']).nullable().catch(null),
  firm: z.looseObject({ name: z.string().nullable() }),
  device: z.looseObject({ id: z.string(), label: z.string(), crew: z.string().nullable() }).nullable(),
  person: z.looseObject({ id: z.string() }).nullable(),
});

async function askWhoIAm({ fetch }: Device, url: string, token: string): Promise<z.output<typeof me>> {
  const headers = { authorization: `Bearer ${token}`, accept: 'application/json' };
  const answer = await fetch(`${url}/v1/me`, { method: 'GET', headers }).catch((error: Error) => {
    throw new CrewError(`no answer from ${url}: ${error.message}. Is the address right, and is there a signal?`);
  });
  if (answer.status === 401) throw new CrewError('the token is not taken: ask the office for a new one');
  const text = await answer.text();
  try {
    return me.parse(JSON.parse(text));
  } catch {
    throw new CrewError(
      `${url} answered ${answer.status}, but not as a server of this kind does: is the address right?`,
    );
  }
}

/** Puts this folder under the token of a device. What was recorded there before stays and is sent under it. */
export async function join(
  folder: string,
  url: string,
  token: string,
  say: Say,
  on: Device = nodeDevice(),
): Promise<boolean> {
  const { firm, device, person, role } = await askWhoIAm(on, url, token);
  if (device === null)
    throw new CrewError('that token is of no device: the office issues one with a device for a crew');
  await mkdir(folder, { recursive: true, mode: 0o700 });
  const { id, crew: crewId } = device;
  const before = await readSettings(folder).catch(() => ({ event: null, reads: null, writes: person?.id ?? null }));
  const { event, reads, writes } = before;
  await writeSettings(folder, { url, token, device: id, crew: crewId, role, event, reads, writes });
  const crew = await openCrew(folder, say, on);
  try {
    say(`joined ${firm.name ?? 'the firm'} as ${device.label}`);
    const complete = await sync(crew);
    say(await people(crew));
    return complete;
  } finally {
    await crew.close();
  }
}
