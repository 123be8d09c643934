import { randomBytes } from 'node:crypto';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { enrol, newTokenSecret } from '../../src/client/enrol.ts';
import type { FetchLike, FetchRequest } from '../../src/client/fetch-like.ts';

const BYTES = (count: number) => new Uint8Array(randomBytes(count));
const ENROLLED = { token: 'an id', role: 'crew', device: 'another' };

function answering(status: number, text: string, asked: [string, FetchRequest][] = []): FetchLike {
  return async (url, request) => {
    asked.push([url, request]);
    return { status, headers: { get: () => null }, text: async () => text };
  };
}

describe('a secret made on a phone', () => {
  it('has the form of a token, and every random bit in it', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 32, maxLength: 32 }), (bytes) => {
        const secret = newTokenSecret(() => bytes);
        expect(secret).toMatch(/^wrt_[\w-]{43}$/);
        expect(Buffer.from(secret.slice(4), 'base64url')).toEqual(Buffer.from(bytes));
      }),
    );
  });
});

describe('enrolling', () => {
  const enrolling = { code: 'ABCDE-FGHJK', label: 'Phone', secret: newTokenSecret(BYTES) };

  it('hands in code, label and secret, without a token', async () => {
    const asked: [string, FetchRequest][] = [];
    const fetch = answering(200, JSON.stringify({ ...ENROLLED, later: 'unknown' }), asked);
    expect(await enrol({ base: 'http://server/', fetch }, enrolling)).toMatchObject({ ok: true, value: ENROLLED });
    const [url, { method, headers, body }] = asked[0] ?? ['', { method: 'GET', headers: {} }];
    expect([url, method, JSON.parse(body ?? '')]).toEqual(['http://server/v1/enrol', 'POST', enrolling]);
    expect(Object.keys(headers)).not.toContain('authorization');
  });

  it('says a refusal with its code, and that an answer that was cut or lost is none', async () => {
    const refusal = JSON.stringify({ code: 'enrolment_refused', detail: 'no' });
    const refused = await enrol({ base: 'http://s', fetch: answering(403, refusal) }, enrolling);
    expect(refused).toMatchObject({ ok: false, problem: { status: 403, code: 'enrolment_refused' } });
    const lost: FetchLike = () => Promise.reject(new Error('reset'));
    for (const fetch of [answering(200, '{"tok'), answering(200, '{}'), lost]) {
      const answer = await enrol({ base: 'http://s', fetch }, enrolling);
      expect(answer).toMatchObject({ ok: false, problem: { status: null, code: 'no_answer' } });
    }
  });
});
