import { readFileSync } from 'node:fs';
import { rm, stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { newSecret } from '../../src/store/tokens.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import { crewHere } from './crew-child.ts';
import { newFolder } from './kept-files.ts';

let server: TestApp;
let url: string;
const folders: string[] = [];

beforeAll(async () => {
  server = await testApp();
  url = await server.app.listen({ port: 0, host: '127.0.0.1' });
});
afterAll(async () => {
  await server.close();
  for (const folder of folders) await rm(folder, { recursive: true, force: true });
});

async function folder(): Promise<string> {
  const made = await newFolder();
  folders.push(made);
  return made;
}

async function makeCode(): Promise<string> {
  const headers = { authorization: `Bearer ${await server.token('coordinator')}` };
  const payload = { label: 'Phone', device: server.firm.ids.phone };
  return (await server.app.inject({ method: 'POST', url: '/v1/enrolment-codes', headers, payload })).json().code;
}

function settingsOf(made: string): { token: string; device: string } {
  return JSON.parse(readFileSync(path.join(made, 'crew.json'), 'utf8')) as { token: string; device: string };
}

it('[E1] the command line of a crew gets its token by a code, as it was read out', async () => {
  const made = await folder();
  const [first = '', second = ''] = (await makeCode()).toLowerCase().split('-');
  expect(await crewHere(made, 'enrol', url, first, second)).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).device).toBe(server.firm.ids.phone);
  await expect(stat(path.join(made, 'enrolment.json'))).rejects.toThrow('ENOENT');
  expect((await crewHere(made, 'wells')).out).toContain('W-1');
});

it('[E3] it goes on with the secret that it kept where the answer was lost, and starts anew with another code', async () => {
  const made = await folder();
  const code = await makeCode();
  const secret = newSecret();
  await writeFile(path.join(made, 'enrolment.json'), JSON.stringify({ url, code, secret }));
  const lost = await server.app.inject({ method: 'POST', url: '/v1/enrol', payload: { code, secret, label: 'Lost' } });
  expect(lost.statusCode).toBe(200);
  expect(await crewHere(made, 'enrol', url, code)).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).token).toBe(secret);
  const again = await crewHere(made, 'enrol', url, code);
  expect([again.code, again.err]).toEqual([1, expect.stringContaining('did not take the code')]);
  expect(await crewHere(made, 'enrol', url, await makeCode())).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).token).not.toBe(secret);
});

it('keeps its secret where nobody answers, readable by its owner only', async () => {
  const made = await folder();
  const nobody = await crewHere(made, 'enrol', 'http://127.0.0.1:1', 'ABCDE-FGHJK');
  expect([nobody.code, nobody.err]).toEqual([1, expect.stringContaining('goes on from here')]);
  const kept = path.join(made, 'enrolment.json');
  expect((await stat(kept)).mode & 0o077).toBe(0);
  const { secret } = JSON.parse(readFileSync(kept, 'utf8')) as { secret: string };
  await crewHere(made, 'enrol', 'http://127.0.0.1:1', 'abcde fghjk');
  expect(JSON.parse(readFileSync(kept, 'utf8'))).toMatchObject({ secret });
});
