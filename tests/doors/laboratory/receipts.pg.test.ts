import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { recompute } from '../../../src/writes/recompute.ts';
import { type LaboratoryFirm, laboratoryFirm, minute } from '../../support/laboratory-firm.ts';

let f: LaboratoryFirm;
const cooler = v7();
const other = v7();

interface Item {
  readonly id: string;
  readonly reference: string;
  readonly type: string;
  readonly label: string | null;
  readonly detail: string;
  readonly decideBy: string | null;
}

beforeAll(async () => {
  f = await laboratoryFirm();
  // the laboratory writes when the cooler has come
  f.t.firm.nowMs += 7 * 24 * 60 * 60_000;
  const { event } = f;
  const make = (id: string, number: string, laboratory: string) => ({
    kind: 'cooler',
    id,
    set: { event, number, laboratory, packed: minute(120) },
  });
  await f.push(make(cooler, 'C-1', f.ids.laboratory), make(other, 'C-7', f.ids.other));
  await f.sample({ number: '2605-11111', at: minute(0), cooler });
  await f.sample({ number: '2605-22222', at: minute(30), cooler });
  const blind = { type: 'blind-duplicate', laboratoryNumber: '2605-90909' };
  await f.sample({ number: 'DUP-1', at: minute(35), cooler, ...blind });
  await f.sample({ number: '2605-77777', at: minute(40), cooler: other });
});
afterAll(() => f.t.close());

const receive = (body: object, key?: string) =>
  f.laboratory.post(`/laboratory/events/${f.event}/receipts`, body, key ? { 'idempotency-key': key } : {});
const items = (client = f.laboratory, prefix = '/laboratory') =>
  client.get(`${prefix}/events/${f.event}/discrepancies`).then(({ body }) => body.items as Item[]);
const said = (all: readonly Item[]) => all.map(({ type, label }) => `${type} ${label ?? ''}`.trim()).sort();

const WARM = {
  cooler: 'C-1',
  received: minute(1_500),
  receivedBy: 'R. Ceiver',
  temperatureC: '7.0',
  ice: true,
  labels: ['2605-11111-1', '2605-11111-2', '2605-22222-1', '2605-90909-1', 'X-1'],
  items: [
    { label: 'a bottle of 250 mL', condition: 'no-label' },
    { label: '2605-22222-1', condition: 'broken' },
  ],
};

describe('a receipt of a laboratory', () => {
  let first: Item[];

  it('opens an item for whatever does not agree, and none for what need not be cool', async () => {
    const { status, body } = await receive(WARM, 'monday');
    expect([status, said(body.discrepancies)]).toEqual([
      201,
      [
        'broken 2605-22222-1',
        'no-label a bottle of 250 mL',
        'not-expected X-1',
        'not-received 2605-22222-2',
        'not-received 2605-90909-2',
        'too-warm',
      ],
    ]);
    first = body.discrepancies;
    const of = (type: string) => first.find((one) => one.type === type);
    expect(of('too-warm')?.detail).toBe(
      'Came at 7.0 °C, above 6 °C: 2605-11111-1, 2605-22222-1, 2605-90909-1. Untouched, since they need not be cool: 2605-11111-2.',
    );
    expect(of('no-label')?.detail).toContain(
      'It may be 2605-22222-2 (expected and not received, 250 mL, bottle), or 2605-90909-2',
    );
    // 14 days from the time told of the blind one, which is the earliest of the cooler
    expect(Date.parse(String(of('too-warm')?.decideBy))).toBeLessThan(Date.parse('2026-05-18T10:00:00Z'));
  });

  it('that is repeated opens nothing twice, and with another content under its key is refused', async () => {
    const again = await receive(WARM, 'monday');
    expect([again.status, again.headers['idempotent-replay']]).toEqual([201, 'true']);
    expect(again.body.discrepancies).toEqual(first);
    const changed = await receive({ ...WARM, temperatureC: '5.0' }, 'monday');
    expect([changed.status, changed.body.code]).toEqual([422, 'key_reused']);
    const second = await receive(WARM, 'tuesday');
    expect(second.body.discrepancies.map(({ id }: Item) => id)).toEqual(first.map(({ id }) => id));
    expect(await items()).toHaveLength(6);
  });

  it('shows on both sides, each with its own ids and numbers', async () => {
    const [theirs, ours] = [await items(), await items(f.office, '')];
    expect(said(theirs)).toEqual(said(ours));
    const ids = new Set(ours.map(({ id }) => id));
    expect(theirs.some(({ id }) => ids.has(id))).toBe(false);
    const references = (all: readonly Item[]) => all.map(({ reference }) => reference).sort();
    expect(references(theirs)).toEqual(references(ours));
    expect(new Set(references(ours)).size).toBe(ours.length);
    expect(references(ours).every((one) => /^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/.test(one))).toBe(true);
    const text = JSON.stringify(theirs);
    for (const hidden of ['DUP-1', 'W-1', cooler]) expect(text).not.toContain(hidden);
    const record = (await f.office.get(`/sample-receipts?event=${f.event}`)).body.items[0];
    expect(record.fields).toMatchObject({
      cooler,
      laboratory: f.ids.laboratory,
      receivedBy: 'R. Ceiver',
      containersCounted: 6,
    });
    const member = (await f.office.get(`/members/${record.by}`)).body;
    expect(member.fields).toEqual({ name: 'Testlab (laboratory)', initials: 'LAB', standing: 'left' });
    expect(await items(f.other)).toEqual([]);
  });

  it('is on the list: what came how, and what did not', async () => {
    const { rows } = (await f.laboratory.get(`/laboratory/events/${f.event}/list.json`)).body;
    const standing = Object.fromEntries(rows.map((row: Record<string, string>) => [row.labelId, row.standing]));
    expect(standing).toMatchObject({
      '2605-11111-1': 'received',
      '2605-22222-1': 'received-broken',
      '2605-90909-2': 'not-received',
    });
    expect(rows[0]).toMatchObject({ labelId: '2605-11111-1', temperatureC: '7.0' });
  });

  it('names no cooler of another laboratory, and says what to give', async () => {
    for (const named of ['C-7', other, cooler, 'nonsense']) {
      const { status, body } = await receive({ cooler: named, received: minute(1_500) });
      expect([named, status, body.pointer]).toEqual([named, 422, '/cooler']);
      expect(body.detail).toContain('leave it out and name its bottles');
    }
    const { coolers } = (await f.laboratory.get(`/laboratory/events/${f.event}/list.json`)).body;
    const byId = await receive({ cooler: coolers[0].id, received: minute(1_600), temperatureC: '4.0' });
    expect(byId.status).toBe(201);
  });

  it('of loose bottles looks each label up, and tells of one that is not on the list no more than that', async () => {
    const loose = { received: minute(1_700), items: [{ label: '2605-77777-1', condition: 'ok' }] };
    const { body } = await receive(loose);
    expect(said(body.discrepancies)).toEqual(['not-expected 2605-77777-1']);
    expect(body.discrepancies[0].sampleNumber).toBe(null);
  });

  it('that is sent again without a key is the one that is there, and what is found out is opened once', async () => {
    const loose = { received: minute(1_710), items: [{ label: 'a jar', condition: 'no-label' }] };
    const before = await items();
    const [first, second] = [await receive(loose), await receive(loose)];
    expect([first.status, second.status, second.body]).toEqual([201, 201, first.body]);
    expect((await items()).length).toBe(before.length + 1);
    const other = await receive({ ...loose, received: minute(1_720) });
    expect(other.body.receipt).not.toBe(first.body.receipt);
  });

  it('that is sent again after the office corrected it is the one that is there, with a key and without', async () => {
    const said = { received: minute(1_711), labels: ['Q-1'] };
    for (const key of [undefined, 'wednesday']) {
      const { body } = await receive(said, key);
      const all: { id: string; rev: number; fields: { received: string } }[] = (
        await f.office.get(`/sample-receipts?event=${f.event}`)
      ).body.items;
      const its = all.find(({ rev, fields }) => rev === 1 && Date.parse(fields.received) === Date.parse(said.received));
      const amended = { verb: 'amend', kind: 'sample-receipt', id: String(its?.id), base: { rev: 1 } } as const;
      await f.push({ ...amended, set: { items: [] }, reason: 'misread' });
      const again = await receive(said, key);
      expect([key, again.status, again.body.receipt]).toEqual([key, 201, body.receipt]);
      expect(again.headers['idempotent-replay']).toBe('true');
    }
    expect((await receive({ ...said, received: minute(1_712) }, 'wednesday')).body.code).toBe('key_reused');
  });

  it('that names neither a cooler nor a bottle is one of its own each time, unless its key says otherwise', async () => {
    const box = { received: minute(1_715), temperatureC: '4.0', containersCounted: 12 };
    const [first, second] = [await receive(box), await receive(box)];
    expect([first.status, second.status]).toEqual([201, 201]);
    expect(second.body.receipt).not.toBe(first.body.receipt);
    const keyed = [await receive(box, 'box'), await receive(box, 'box')];
    expect(keyed[1]?.body.receipt).toBe(keyed[0]?.body.receipt);
  });

  it('of the office that waited for its typist is there when it is sent again, and opens its items', async () => {
    for (const key of [undefined, 'thursday']) {
      const who = v7();
      const said = { laboratory: f.ids.laboratory, typedBy: who, received: minute(1_716) };
      const given = { ...said, items: [{ label: `a can ${key}`, condition: 'no-label' }] };
      const send = () =>
        f.office.post(`/events/${f.event}/receipts`, given, key === undefined ? {} : { 'idempotency-key': key });
      expect((await send()).body.code).toBe('parent_missing');
      if (key === undefined) {
        const other = { ...given, typedBy: v7() };
        expect((await f.office.post(`/events/${f.event}/receipts`, other)).body.code).toBe('parent_missing');
      }
      await f.push({ kind: 'member', id: who, set: { name: 'New Hand', initials: 'NH', standing: 'active' } });
      const { status, body } = await send();
      expect([key, status, body.discrepancies.length]).toEqual([key, 201, 1]);
    }
  });

  it('that can only be a typing error is refused at its place, and nothing of it is kept', async () => {
    const before = await items();
    const said = { cooler: 'C-1', received: minute(1_730), temperatureC: '450', containersCounted: 90_000 };
    const { status, body } = await receive(said);
    expect([status, body.code, body.pointer]).toEqual([422, 'unreadable_record', '/temperatureC']);
    expect(body.detail).toContain('90000 bottles are more than one receipt is for');
    expect((await items()).length).toBe(before.length);
    const tomorrow = await receive({ cooler: 'C-1', received: '2999-01-01T00:00:00Z', temperatureC: '4.0' });
    expect([tomorrow.status, tomorrow.body.pointer]).toEqual([422, '/received']);
  });

  it('can be typed by the office, and without a temperature is incomplete, which the laboratory mends', async () => {
    const url = `/events/${f.event}/receipts`;
    const given = { cooler: 'C-7', received: minute(1_500), ice: true };
    const nobody = await f.office.post(url, given);
    expect([nobody.status, nobody.body.pointer]).toEqual([422, '/typedBy']);
    const { status, body } = await f.office.post(url, { ...given, typedBy: f.t.firm.ids.ann });
    expect([status, said(body.discrepancies), body.discrepancies[0].mayDecide]).toEqual([
      201,
      ['temperature-not-recorded'],
      false,
    ]);
    const [theirs] = await items(f.other);
    expect(theirs).toMatchObject({ type: 'temperature-not-recorded', decides: 'laboratory', mayDecide: true });
  });
});

describe('an open item', () => {
  const DECISION = { decision: 'Analyse it all the same', decidedBy: 'C. Ordinator' };

  it('is decided by the side that may, once, and the other side reads it', async () => {
    const [item] = await items();
    const url = `/laboratory/events/${f.event}/discrepancies/${item?.id}/decision`;
    const refused = await f.laboratory.post(url, DECISION);
    expect([refused.status, refused.body.detail]).toEqual([
      403,
      expect.stringContaining('a coordinator of the firm decides this item'),
    ]);
    const [own] = await items(f.office, '');
    const address = `/events/${f.event}/discrepancies/${own?.id}/decision`;
    expect((await f.crew.post(address, DECISION)).status).toBe(403);
    const key = { 'idempotency-key': 'decided' };
    const done = await f.office.post(address, DECISION, key);
    expect(done.body).toMatchObject({ standing: 'decided', decision: DECISION.decision, mayDecide: false });
    expect((await f.office.post(address, DECISION, key)).body).toEqual(done.body);
    const late = await f.office.post(address, { ...DECISION, decision: 'No' });
    expect([late.status, late.body.code]).toEqual([409, 'already_decided']);
    const read = await f.laboratory.get(`/laboratory/events/${f.event}/discrepancies?standing=decided`);
    expect(read.body.items).toMatchObject([{ id: item?.id, decision: DECISION.decision, decidedBy: 'C. Ordinator' }]);
  });

  it('of which the laboratory is not told what was decided says so to the office, which words it anew', async () => {
    const about = { event: f.event, laboratory: f.ids.laboratory, raisedOn: 'field', standing: 'open' };
    const asked = { ...about, decides: 'coordinator', type: 'which-bottle', detail: 'Which bottle is to be used?' };
    const { id } = (await f.office.post('/discrepancies', asked)).body;
    const decided = { ...DECISION, decision: 'Use that of DUP-1' };
    const { body } = await f.office.post(`/events/${f.event}/discrepancies/${id}/decision`, decided);
    expect(body.note).toContain('PATCH /v1/discrepancies/');
    const anew = { base: { rev: 2 }, decision: 'Use the other one' };
    expect((await f.office.patch(`/discrepancies/${id}`, anew)).status).toBe(200);
    const theirs = (await items()).find(({ type }) => type === 'which-bottle');
    expect(theirs).toMatchObject({ decision: 'Use the other one', note: null });
  });

  it('of the laboratory is decided by it, in its own name', async () => {
    const [item] = await items(f.other);
    const url = `/laboratory/events/${f.event}/discrepancies/${item?.id}/decision`;
    const { status, body } = await f.other.post(url, { decision: 'It was 4.1 °C', decidedBy: 'R. Ceiver' });
    expect([status, body.standing]).toEqual([200, 'decided']);
    const missing = await f.laboratory.post(url, DECISION);
    expect([missing.status, missing.body.code]).toEqual([404, 'record_missing']);
  });

  it('of the field is told to a laboratory, but no text that names what it must not know', async () => {
    const about = {
      event: f.event,
      laboratory: f.ids.laboratory,
      raisedOn: 'field',
      decides: 'laboratory',
      standing: 'open',
    };
    await f.office.post('/discrepancies', {
      ...about,
      type: 'asked',
      detail: 'Is the result of 2605-90909 that of DUP-1?',
    });
    await f.office.post('/discrepancies', { ...about, type: 'asked', detail: 'Which method for 2605-22222?' });
    const details = (await items()).filter(({ type }) => type === 'asked').map(({ detail }) => detail);
    expect(details.sort()).toEqual([expect.stringMatching(/^\(withheld/), 'Which method for 2605-22222?']);
  });

  it('leaves records that are the same when they are computed anew', async () => {
    expect(await recompute(f.t.db.pool, f.t.firm.id)).toEqual([]);
  });
});
