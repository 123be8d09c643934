import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { historyPart } from '../../../src/reads/history-part.ts';
import { inRead } from '../../../src/store/read/transaction.ts';
import { type TestApp, testApp } from '../../support/test-app.ts';
import { purgeDrafts, readingDraft } from '../../support/visit-drafts.ts';
import { RestClient } from '../rest/rest-client.ts';
import { ask } from './ask.ts';

const ENTRY = `act rev receivedAt byId byName reason deviceId device client mutation decision feed seq historyHashBefore
  historyHash record changes { field was is wasName isName }`;

interface Told {
  readonly reading: { readonly history: { readonly entries: Record<string, unknown>[]; readonly next: string | null } };
}

let t: TestApp;
let token: string;
let id: string;

beforeAll(async () => {
  t = await testApp();
  token = await t.token('crew', t.firm.ids.phone);
  const crew = await t.firm.client('crew', t.firm.ids.phone);
  const { ids, drafts } = purgeDrafts(t.firm);
  const draft = readingDraft(t.firm, ids.purge, 25);
  id = draft.id ?? '';
  await crew.push(...drafts, draft);
  for (const ph of ['7.10', '7.20', '7.30']) {
    await crew.push({ kind: 'reading', verb: 'amend', id, set: { ph }, reason: `read ${ph}` });
  }
});
afterAll(() => t.close());

async function part(limit: number, cursor: string | null) {
  const query = `query ($id: ID!, $limit: Int, $cursor: String) {
    reading(id: $id) { history(limit: $limit, cursor: $cursor) { entries { ${ENTRY} } next } } }`;
  return ask<Told>(t, token, query, { id, limit, cursor });
}

describe('the history of a record through GraphQL', () => {
  it('[H1] says the same as the file that REST gives, and in parts the same as at once', async () => {
    const whole = (await part(50, null)).data.reading.history;
    expect(whole.next).toBeNull();
    expect(whole.entries.map(({ act, rev }) => [act, rev])).toEqual([
      ['RECORDED', 1],
      ['CORRECTED', 2],
      ['CORRECTED', 3],
      ['CORRECTED', 4],
    ]);
    const { body } = await new RestClient(t, token).get(`/readings/${id}/history/export`);
    const own = (body as { entries: Record<string, unknown>[] }).entries.filter((entry) => entry.id === id);
    for (const [at, told] of whole.entries.entries()) {
      const { act, byId, deviceId, device, changes, ...rest } = told;
      expect(own[at]).toMatchObject({ ...rest, act: String(act).toLowerCase(), by: byId });
      expect(own[at]?.device).toEqual({ id: deviceId, label: device });
      const plain = (all: unknown) =>
        (all as { field: string; was?: unknown; is?: unknown }[]).map(({ field, was = null, is = null }) => [
          field,
          was,
          is,
        ]);
      expect(plain(changes)).toEqual(plain(own[at]?.changes ?? []));
    }
    const parts: Record<string, unknown>[] = [];
    for (let cursor: string | null = null; ; ) {
      const { entries, next }: Told['reading']['history'] = (await part(1, cursor)).data.reading.history;
      parts.push(...entries);
      if (next === null) break;
      cursor = next;
    }
    expect(parts).toEqual(whole.entries);
  });

  it('[H6] refuses what is too long for parts, and does not end early', async () => {
    const parts = (most: number) => inRead(t.db.pool, t.firm.id, (tx) => historyPart(tx, id, { limit: 50 }, most));
    expect(await parts(4)).toMatchObject({ next: null, entries: { length: 4 } });
    await expect(parts(3)).rejects.toMatchObject({ code: 'too_large' });
  });

  it('takes no limit that is none, and no cursor of another list', async () => {
    expect((await part(0, null)).errors[0]?.extensions.code).toBe('bad_request');
    expect((await part(5, 'nothing')).errors[0]?.extensions.code).toBe('bad_request');
  });
});
