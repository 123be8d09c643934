import { type FieldClient, openClient } from '../../client/client.ts';
import { httpTransport } from '../../client/http-transport.ts';
import { openFileStore } from '../file-store.ts';
import { type Device, nodeDevice } from './node-device.ts';
import { readSettings, type Settings, writeSettings } from './settings.ts';

export type Say = (line: string) => void;

/** What every command works with. */
export interface Crew {
  readonly folder: string;
  readonly client: FieldClient;
  readonly settings: Settings;
  readonly say: Say;
  /** When what is recorded was seen, where that was not just now. */
  readonly seenAt: string | null;
  change(settings: Partial<Settings>): Promise<void>;
  close(): Promise<void>;
}

/** Who reads, who writes or both; the settings count, and the store follows them. */
export async function changePeople(crew: Crew, people: Partial<Pick<Settings, 'reads' | 'writes'>>): Promise<void> {
  await crew.change(people);
  if (people.writes) await crew.client.setPerson(people.writes);
}

export async function openCrew(folder: string, say: Say, device: Device = nodeDevice()): Promise<Crew> {
  let settings = await readSettings(folder);
  const store = await openFileStore({ folder });
  if (store.cutOff > 0) say(`(what was being written when the program ended last, ${store.cutOff} bytes, was cut off)`);
  const { url: base, token, role, aheadMs = 0 } = settings;
  const { newId, fetch } = device;
  const transport = httpTransport({ base, token, fetch });
  const client = await openClient({ store, transport, time: device.time(aheadMs), newId, role });
  const { person } = await client.identity();
  // The last change of people was cut off between this file and the store.
  if (settings.writes !== null && settings.writes !== person) await client.setPerson(settings.writes);
  return {
    folder,
    client,
    get settings() {
      return settings;
    },
    say,
    seenAt: null,
    change: async (changed) => {
      settings = { ...settings, ...changed };
      await writeSettings(folder, settings);
    },
    close: () => store.close(),
  };
}
