import { readFileSync } from 'node:fs';
import { stat, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { expect, it, vi } from 'vitest';
import { newSecret } from '../../src/store/tokens.ts';
import { crewHere } from './crew-child.ts';
import { crewServer, settingsOf } from './crew-server.ts';

const crews = crewServer();

async function makeCode(): Promise<string> {
  const headers = { authorization: `Bearer ${await crews.server.token('coordinator')}` };
  const payload = { label: 'Phone', device: crews.server.firm.ids.phone };
  return (await crews.server.app.inject({ method: 'POST', url: '/v1/enrolment-codes', headers, payload })).json().code;
}

it('[E1] the command line of a crew gets its token by a code, as it was read out', async () => {
  const made = await crews.folder();
  const [first = '', second = ''] = (await makeCode()).toLowerCase().split('-');
  expect(await crewHere(made, 'enrol', crews.url, first, second)).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).device).toBe(crews.server.firm.ids.phone);
  await expect(stat(path.join(made, 'enrolment.json'))).rejects.toThrow('ENOENT');
  expect((await crewHere(made, 'wells')).out).toContain('W-1');
  const named = await crews.folder();
  await crewHere(named, 'enrol', crews.url, await makeCode(), '--label', 'Spare phone');
  const { rows } = await crews.server.db.bypass.query(
    'select c.used_label as used, t.label from enrolment_code c join token t on t.firm = c.firm and t.id = c.token order by c.used_at',
  );
  expect(rows).toEqual([
    { used: 'Phone', label: 'Phone' },
    { used: 'Spare phone', label: 'Spare phone' },
  ]);
});

it('[E3] it goes on with the secret that it kept where the answer was lost, and starts anew with another code', async () => {
  const made = await crews.folder();
  const code = await makeCode();
  const secret = newSecret();
  await writeFile(path.join(made, 'enrolment.json'), JSON.stringify({ url: crews.url, code, secret }));
  const lost = await crews.server.app.inject({
    method: 'POST',
    url: '/v1/enrol',
    payload: { code, secret, label: 'Lost' },
  });
  expect(lost.statusCode).toBe(200);
  expect(await crewHere(made, 'enrol', crews.url, code)).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).token).toBe(secret);
  const again = await crewHere(made, 'enrol', crews.url, code);
  expect([again.code, again.err]).toEqual([1, expect.stringContaining(`did not take the code ${code}: `)]);
  expect(await crewHere(made, 'enrol', crews.url, await makeCode())).toMatchObject({ code: 0, err: '' });
  expect(settingsOf(made).token).not.toBe(secret);
});

it('keeps its secret where nobody answers, readable by its owner only', async () => {
  const made = await crews.folder();
  const nobody = await crewHere(made, 'enrol', 'http://127.0.0.1:1', 'ABCD0-FGHJ1');
  expect([nobody.code, nobody.err]).toEqual([1, expect.stringContaining('goes on from here')]);
  const kept = path.join(made, 'enrolment.json');
  expect((await stat(kept)).mode & 0o077).toBe(0);
  const tries = () => (JSON.parse(readFileSync(kept, 'utf8')) as { tries: { secret: string }[] }).tries;
  const [first] = tries();
  await crewHere(made, 'enrol', 'http://127.0.0.1:1', 'abcdo fghjl');
  for (const args of [
    ['enrol', '127.0.0.1:4400', 'ABCD0-FGHJ1'],
    ['join', 'server', 'wrt_x'],
  ]) {
    const refused = await crewHere(made, ...args);
    expect([refused.code, refused.err]).toEqual([
      1,
      expect.stringContaining(
        `"${args[1]}" is no address of a server: give it with http:// or https://, as http://${args[1]}`,
      ),
    ]);
  }
  expect(tries()).toEqual([first]);
});

it('[E3] keeps the secret of each code until one has joined: the answer of any of them may have been lost', async () => {
  const made = await crews.folder();
  const code = await makeCode();
  const kept = path.join(made, 'enrolment.json');
  let status = 500;
  const real = globalThis.fetch;
  vi.stubGlobal('fetch', async (...given: Parameters<typeof real>) => {
    const answer = await real(...given);
    return status === 200 ? answer : new Response(await answer.text(), { status });
  });
  try {
    // The code is used, and what comes back says nothing of it.
    const lost = await crewHere(made, 'enrol', crews.url, code.replaceAll('0', 'O').replaceAll('1', 'l').toLowerCase());
    expect([lost.code, lost.err]).toEqual([1, expect.stringContaining('the same command once more goes on from here')]);
    status = 200;
    const { secret } = (JSON.parse(readFileSync(kept, 'utf8')) as { tries: { secret: string }[] }).tries[0] ?? {};
    const wrong = await crewHere(made, 'enrol', crews.url, 'ZZZZZ-ZZZZ0');
    expect([wrong.code, wrong.err]).toEqual([1, expect.stringContaining('nothing was changed')]);
    expect(await crewHere(made, 'enrol', crews.url, code)).toMatchObject({ code: 0, err: '' });
    expect(settingsOf(made).token).toBe(secret);
    await expect(stat(kept)).rejects.toThrow('ENOENT');
  } finally {
    vi.unstubAllGlobals();
  }
});
