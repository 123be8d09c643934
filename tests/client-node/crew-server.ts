import { readFileSync } from 'node:fs';
import { rm, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, expect } from 'vitest';
import { type TestApp, testApp } from '../support/test-app.ts';
import { crew, crewHere } from './crew-child.ts';
import { newFolder } from './kept-files.ts';

/** Where nobody answers. */
export const NOWHERE = 'http://127.0.0.1:1';

interface Settings {
  readonly url: string;
  readonly token: string;
  readonly device: string;
}

export function settingsOf(folder: string): Settings {
  return JSON.parse(readFileSync(path.join(folder, 'crew.json'), 'utf8')) as Settings;
}

/** A real server for the command line of crews, and their folders; both go with the tests of a file. */
export class CrewServer {
  #server: TestApp | null = null;
  #url = '';
  readonly #folders: string[] = [];

  get server(): TestApp {
    if (this.#server === null) throw new Error('the server is not up yet');
    return this.#server;
  }

  get url(): string {
    return this.#url;
  }

  async open(): Promise<void> {
    this.#server = await testApp();
    this.#url = await this.server.app.listen({ port: 0, host: '127.0.0.1' });
  }

  async close(): Promise<void> {
    await this.#server?.close();
    for (const folder of this.#folders) await rm(folder, { recursive: true, force: true });
  }

  async folder(): Promise<string> {
    const made = await newFolder();
    this.#folders.push(made);
    return made;
  }

  /** A folder under the token of a device, joined by a process of its own as a crew does it. */
  async joined(device: string, address = this.#url): Promise<string> {
    const made = await this.folder();
    const ran = await crew(made, 'join', address, await this.server.token('crew', device));
    expect(ran).toMatchObject({ code: 0, err: '' });
    return made;
  }

  /** A device that has joined, has people, and whose server is out of reach. */
  async afield(device: string): Promise<string> {
    const made = await this.folder();
    const token = await this.server.token('crew', device);
    expect(await crewHere(made, 'join', this.#url, token)).toMatchObject({ code: 0 });
    await crewHere(made, 'who', '--reads', 'BW', '--writes', 'AR');
    await this.point(made, NOWHERE);
    return made;
  }

  /** From now on the server of a folder is at this address. */
  async point(made: string, to: string): Promise<void> {
    await writeFile(path.join(made, 'crew.json'), JSON.stringify({ ...settingsOf(made), url: to }));
  }

  cutOff(made: string): Promise<void> {
    return this.point(made, NOWHERE);
  }

  reconnect(made: string): Promise<void> {
    return this.point(made, this.#url);
  }
}

export function crewServer(setUp: (server: TestApp) => Promise<unknown> = async () => undefined): CrewServer {
  const crews = new CrewServer();
  beforeAll(async () => {
    await crews.open();
    await setUp(crews.server);
  });
  afterAll(() => crews.close());
  return crews;
}
