import { mkdtemp, rm } from 'node:fs/promises';
import { createServer, type IncomingMessage } from 'node:http';
import os from 'node:os';
import path from 'node:path';
import type pg from 'pg';
import type { TestProject } from 'vitest/node';
import { compiledFolder } from './compiled-folder.ts';
import { dropRunDatabases, makeRoles, makeTemplate, withAdmin } from './template.ts';
import { startTestServer, type TestServer } from './test-server.ts';

declare module 'vitest' {
  export interface ProvidedContext {
    /** the socket at which test files ask for a database server */
    testServerDoor: string;
  }
}

/** What a test file is told. */
export interface TemplateAnswer {
  admin: pg.ClientConfig;
  direct: boolean;
  template: string;
}

async function textOf(request: IncomingMessage): Promise<string> {
  let text = '';
  for await (const chunk of request) text += String(chunk);
  return text;
}

/** Most test files need no database, so the server starts when the first one asks, and only once. */
function lazyServer() {
  let starting: Promise<TestServer> | undefined;
  let queue: Promise<unknown> = Promise.resolve();
  const start = async (): Promise<TestServer> => {
    const server = await startTestServer();
    await withAdmin(server.admin, makeRoles);
    return server;
  };
  return {
    template(directory: string): Promise<TemplateAnswer> {
      starting ??= start();
      const server = starting;
      const answer = queue.then(async () => {
        const { admin, direct } = await server;
        return { admin, direct, template: await makeTemplate(await server, directory) };
      });
      queue = answer.catch(() => undefined);
      return answer;
    },
    async stop(): Promise<void> {
      const server = await starting?.catch(() => undefined);
      if (server === undefined) return;
      if (server.engine === 'given') await dropRunDatabases(server);
      await server.stop();
    },
  };
}

export default async function globalSetup(project: TestProject): Promise<() => Promise<void>> {
  const folder = await mkdtemp(path.join(os.tmpdir(), 'wellround-door-'));
  const server = lazyServer();
  const door = createServer(async (request, response) => {
    try {
      response.end(JSON.stringify(await server.template(await textOf(request))));
    } catch (error) {
      response.statusCode = 500;
      response.end(error instanceof Error ? error.message : String(error));
    }
  });
  const socket = path.join(folder, 'door');
  await new Promise<void>((resolve) => door.listen(socket, resolve));
  project.provide('testServerDoor', socket);
  return async () => {
    door.close();
    door.closeAllConnections();
    const folders = [folder, compiledFolder(socket)];
    const clear = () => Promise.all(folders.map((one) => rm(one, { recursive: true, force: true })));
    await server.stop().finally(clear);
  };
}
