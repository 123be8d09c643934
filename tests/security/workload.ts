import type { FastifyInstance } from 'fastify';
import type pg from 'pg';
import { v7 } from 'uuid';
import { lookFor } from '../../src/reads/live/look.ts';
import { newerSetAside, notReleased } from '../../src/store/read/newer-set-aside.ts';
import { inRead } from '../../src/store/read/transaction.ts';
import { newSecret } from '../../src/store/tokens.ts';
import { rewriteMemories } from '../../src/store/write/persist-heads.ts';
import { markDecided, markTried } from '../../src/store/write/persist-receipts.ts';
import { inWrite } from '../../src/store/write/transaction.ts';
import { compact } from '../../src/writes/compact.ts';
import { rememberAgain } from '../../src/writes/remember-again.ts';
import { retype } from '../../src/writes/retype.ts';
import { takeUp } from '../../src/writes/take-up.ts';
import { Laps } from '../../src/writes/take-up-laps.ts';
import { verifyFirm } from '../../src/writes/verify-firm.ts';
import { documentOf, operationsOf } from './api-document.ts';
import { type Aim, plainRead } from './attacks.ts';
import { plainQuestions } from './graph-attacks.ts';
import { inParallel } from './matrix.ts';
import { type Asked, mustDo, type Speaker, speaker } from './speaker.ts';
import { type Firm, speakersOf } from './two-firms.ts';

function push(by: Speaker, lines: readonly object[], more: object = {}, url = '/v1/sync/push') {
  const header = { client: v7(), schemaVersion: 1, first: 1, count: lines.length, ...more };
  const payload = `${[header, ...lines].map((line) => JSON.stringify(line)).join('\n')}\n`;
  return mustDo(by, {
    method: 'POST',
    url,
    headers: { 'content-type': 'application/x-ndjson' },
    payload,
  });
}

async function readAll(app: FastifyInstance, firm: Firm): Promise<void> {
  const document = await documentOf(app);
  const aim: Aim = { document, ours: firm.ids, theirs: firm.ids };
  const reads = operationsOf(document)
    .filter(({ method }) => method === 'GET')
    .map((operation) => plainRead(operation, aim));
  const speakers = speakersOf(app, firm.secrets);
  const feed = encodeURIComponent(`event:${firm.ids.of('event')}`);
  const { cursor } = await mustDo(speakers.crew, { method: 'GET', url: `/v1/sync/feeds/${feed}/rows?limit=2` });
  const goOn: Asked = { method: 'GET', url: `/v1/sync/feeds/${feed}/rows?cursor=${cursor}` };
  const whole = await mustDo(speakers.crew, { method: 'GET', url: `/v1/sync/feeds/${feed}/rows` });
  const goOnAtTail: Asked = { method: 'GET', url: `/v1/sync/feeds/${feed}/rows?cursor=${whole.cursor}` };
  const client: Asked = { method: 'GET', url: `/v1/sync/feeds?client=${firm.ids.of('client')}` };
  // sets of wells and levels, whose names are no ids of the path
  const things = ['Things', 'Observations'].map((set): Asked => ({ method: 'GET', url: `/v1/sensor-things/${set}` }));
  // few enough records that they come themselves
  const prefix = firm.ids.of('visit').replaceAll('-', '');
  const within: Asked = { method: 'GET', url: `/v1/sync/feeds/${feed}/verify?prefix=${prefix}` };
  // a crew sees what it follows, all others see everything: these two ask every statement there is
  await inParallel(
    [...reads, ...plainQuestions(aim), ...things, goOn, goOnAtTail, client, within],
    4,
    async (asked) => {
      await speakers.admin.ask(asked);
      await speakers.crew.ask(asked);
    },
  );
}

/** Every kind of change: of a visit's place, of what is decided, let go, taken over, withdrawn, and of clocks. */
async function changeAll(app: FastifyInstance, { firm, ids, secrets }: Firm): Promise<void> {
  const { admin, crew } = speakersOf(app, secrets);
  const reason = 'the workload of a test';
  const visit = ids.of('visit', 2);
  await mustDo(admin, {
    method: 'POST',
    url: `/v1/visits/${visit}/rehome`,
    payload: { well: firm.ids.shallow, base: { rev: 1 }, reason },
  });
  await mustDo(admin, { method: 'POST', url: `/v1/nests/${ids.of('nest', 3)}/void`, payload: { reason } });
  await mustDo(crew, { method: 'PUT', url: '/v1/me/person', payload: { person: firm.ids.bob } });
  const conflicts = await mustDo(admin, { method: 'GET', url: '/v1/conflicts?standing=open' });
  for (const { id, rev, fields } of conflicts.items as {
    id: string;
    rev: number;
    fields: { type: string; shown: { value: unknown } };
  }[]) {
    const value = fields.type === 'field' ? { value: fields.shown.value } : {};
    await admin.ask({
      method: 'POST',
      url: `/v1/conflicts/${id}/resolve`,
      payload: { base: { rev }, ...value, reason },
    });
  }
  const asides = await mustDo(admin, { method: 'GET', url: '/v1/set-asides?standing=kept' });
  for (const { id } of asides.items as { id: string }[]) {
    await admin.ask({ method: 'POST', url: `/v1/set-asides/${id}/release`, payload: { reason } });
  }
  await mustDo(admin, {
    method: 'PATCH',
    url: `/v1/crews/${firm.ids.north}`,
    payload: { name: 'Renamed', base: { rev: 1 } },
  });
}

async function pushAll(app: FastifyInstance, { firm, ids, secrets }: Firm): Promise<void> {
  const { admin, crew } = speakersOf(app, secrets);
  const clock = { wall: '2026-05-04T10:00:00Z', monotonicMs: 1, boot: 'b' };
  const line = (mutationId: number, kind: string, set: object) => ({
    mutationId,
    verb: 'record',
    kind,
    id: v7(),
    set,
    clock: { ...clock, sequence: mutationId },
  });
  const later = v7();
  const waits = { ...line(1, 'crew', { name: 'Waits' }), requires: [later] };
  await push(admin, [waits, { ...line(2, 'crew', { name: 'Comes' }), id: later }], { sent: clock });
  await push(
    crew,
    [line(1, 'reading', { purge: ids.of('purge'), ph: '7', observed: firm.observed('2026-05-04T10:30:00Z') })],
    { sent: clock },
  );
  const page = await mustDo(crew, { method: 'GET', url: '/v1/sync/feeds/firm/rows' });
  await push(
    crew,
    [line(1, 'reading', { purge: ids.of('purge'), ph: '7.1', observed: firm.observed('2026-05-04T10:35:00Z') })],
    {
      seen: [page.cursor],
    },
  );
  // a copy that does not say in what history its line saw what it cites
  const amends = { verb: 'amend', kind: 'purge', id: ids.of('purge'), base: { rev: 1 }, set: { remark: 'carried' } };
  await push(crew, [{ mutationId: 1, ...amends }], {}, '/v1/sync/push?carried=true');
  const issued = await mustDo(admin, {
    method: 'POST',
    url: '/v1/tokens',
    payload: { label: 'Lost', role: 'crew', device: firm.ids.phone },
  });
  await mustDo(admin, { method: 'POST', url: `/v1/tokens/${issued.id}/revoke` });
  await push(speaker(app, 'crew', String(issued.secret)), [line(1, 'crew', { name: 'Of a lost phone' })]);
}

/**
 * A phone gets its token by a code, twice since it did not hear the answer; another code is withdrawn. The phone is of a
 * crew that is not assigned: what it records in the event is set aside.
 */
async function enrolPhone(app: FastifyInstance, { firm, ids, secrets }: Firm): Promise<void> {
  const { admin } = speakersOf(app, secrets);
  const crew = v7();
  await mustDo(admin, { method: 'POST', url: '/v1/crews', payload: { id: crew, name: 'Spare crew' } });
  const make = () => mustDo(admin, { method: 'POST', url: '/v1/enrolment-codes', payload: { label: 'Spare', crew } });
  const [{ code }, { id }] = [await make(), await make()];
  await mustDo(admin, { method: 'POST', url: `/v1/enrolment-codes/${id}/withdraw` });
  const payload = { code, secret: newSecret(), label: 'Spare phone' };
  for (let times = 0; times < 2; times++) await mustDo(admin, { method: 'POST', url: '/v1/enrol', payload });
  const set = { purge: ids.of('purge'), ph: '7', observed: firm.observed('2026-05-04T10:40:00Z') };
  const line = { mutationId: 1, verb: 'record', kind: 'reading', id: v7(), set };
  await push(speaker(app, 'crew', payload.secret), [line]);
}

/** Somebody looks at what was noted about the clock of the phone. */
async function reviewClock(app: FastifyInstance, { firm, secrets }: Firm): Promise<void> {
  const { admin } = speakersOf(app, secrets);
  const notes = await mustDo(admin, { method: 'GET', url: `/v1/flags?subject=${firm.ids.phone}` });
  const [note] = notes.items as { id: string; fields: { evidenceHash: string } }[];
  const observed = firm.observed('2026-05-04T11:00:00Z');
  const payload = { flag: note?.id, evidenceHash: note?.fields.evidenceHash, decision: 'no-action', observed };
  await mustDo(admin, { method: 'POST', url: '/v1/flag-reviews', payload });
}

/** A container of a sample is labelled and filled, and what is asked of its suite changes. */
async function fillContainer(app: FastifyInstance, { firm, ids, secrets }: Firm): Promise<void> {
  const { admin, crew } = speakersOf(app, secrets);
  const [suite, container] = [v7(), v7()];
  const groups = [{ group: 'volatiles' }];
  await mustDo(admin, { method: 'POST', url: '/v1/analyte-suites', payload: { id: suite, name: 'VOC', groups } });
  const of = { event: firm.ids.event, sample: ids.of('sample'), group: 'volatiles', suite: 'VOC', type: 'vial' };
  const payload = { id: container, ...of, volumeMl: '40', label: 'of the workload', standing: 'filled' };
  await mustDo(crew, { method: 'POST', url: '/v1/containers', payload });
  const { sample: _, ...ofNone } = { ...of, planned: ids.of('planned-sample') };
  const labelled = { ...ofNone, volumeMl: '40', label: 'of the plan alone', standing: 'expected' };
  await mustDo(crew, { method: 'POST', url: '/v1/containers', payload: labelled });
  const collected = '2026-05-04T10:45:00Z';
  const fill = { container, bubble: true, collected, observed: firm.observed(collected) };
  await mustDo(crew, { method: 'POST', url: '/v1/fills', payload: fill });
  const changed = { groups: [...groups, { group: 'metals-total' }], base: { rev: 1 }, reason: 'ordered besides' };
  await mustDo(admin, { method: 'PATCH', url: `/v1/analyte-suites/${suite}`, payload: changed });
}

/** A blank that may be packed in a cooler says another time. */
async function correctBlank(app: FastifyInstance, { firm, secrets }: Firm): Promise<void> {
  const { crew } = speakersOf(app, secrets);
  const id = v7();
  const set = { event: firm.ids.event, type: 'trip', number: 'TB of the workload', suites: ['VOC'] };
  await mustDo(crew, { method: 'POST', url: '/v1/blanks', payload: { id, ...set, collected: '2026-05-04T07:00:00Z' } });
  const changed = { collected: '2026-05-04T07:30:00Z', base: { rev: 1 }, reason: 'misread' };
  await mustDo(crew, { method: 'PATCH', url: `/v1/blanks/${id}`, payload: changed });
}

/** Questions about a well on record, asked by those who see everything and by a crew that sees what it follows. */
async function askOfWell(app: FastifyInstance, { firm, secrets }: Firm): Promise<void> {
  const { admin, crew } = speakersOf(app, secrets);
  const well = firm.ids.deep;
  const water = { pumpingDepthToWaterFt: '32.0', waterTemperatureC: '12.0', productOrVapour: false };
  const plan = { ...water, altitudeFt: '500', suites: ['metals'] };
  for (const by of [admin, crew]) {
    const payload = { well, depthToBottomFt: '61.6' };
    await mustDo(by, { method: 'POST', url: '/v1/questions/which-well', payload });
    await mustDo(by, { method: 'POST', url: `/v1/wells/${well}/pump-set-up-plan`, payload: plan });
  }
}

/** What a live stream looks for again and again: which tokens still stand, and where the feeds of their devices end. */
async function lookLive(pool: pg.Pool, { firm, ids }: Firm): Promise<void> {
  const reader = { firm: firm.id, token: ids.of('token') };
  const readers = [
    { ...reader, role: 'crew', device: firm.ids.phone },
    { ...reader, role: 'admin', device: null },
  ] as const;
  await inRead(pool, firm.id, (tx) => lookFor(tx, readers, new Date(firm.nowMs).toISOString()));
}

/** What a laboratory asks: its events, its list, what is new of that, and what is ordered of it. */
async function askAsLaboratory(app: FastifyInstance, { ids, secrets }: Firm): Promise<void> {
  const { laboratory } = speakersOf(app, secrets);
  const url = `/v1/laboratory/events/${ids.of('event')}`;
  await mustDo(laboratory, { method: 'GET', url: '/v1/laboratory/events' });
  const { cursor } = await mustDo(laboratory, { method: 'GET', url: `${url}/list.json` });
  await mustDo(laboratory, { method: 'GET', url: `${url}/list.json?since=${cursor}` });
  await mustDo(laboratory, { method: 'GET', url: `${url}/orders` });
  const payload = { received: '2026-05-04T06:00:00-05:00', items: [{ label: 'nobody knows', condition: 'ok' }] };
  const headers = { 'idempotency-key': 'workload' };
  await mustDo(laboratory, { method: 'POST', url: `${url}/receipts`, payload, headers });
  const { items } = await mustDo(laboratory, { method: 'GET', url: `${url}/discrepancies` });
  const [item] = items as { id: string }[];
  // the office decides this one
  await laboratory.ask({
    method: 'POST',
    url: `${url}/discrepancies/${item?.id}/decision`,
    payload: { decision: 'x', decidedBy: 'x' },
  });
}

/** Everything that a firm can ask of the server, one after the other. */
export async function workload(app: FastifyInstance, pool: pg.Pool, firm: Firm): Promise<void> {
  await readAll(app, firm);
  await askOfWell(app, firm);
  await askAsLaboratory(app, firm);
  await lookLive(pool, firm);
  await pushAll(app, firm);
  await enrolPhone(app, firm);
  await reviewClock(app, firm);
  await fillContainer(app, firm);
  await correctBlank(app, firm);
  await changeAll(app, firm);
  const now = () => new Date(firm.firm.nowMs);
  await compact(pool, firm.firm.id, { before: new Date(firm.firm.nowMs + 1), now });
  await takeUp({ pool, now, committed: () => undefined, laps: new Laps(() => 0) }, firm.firm.id);
  await inRead(pool, firm.firm.id, (tx) => newerSetAside(tx, { version: 1, after: null, limit: 1 }));
  const decided = { id: v7(), outcome: 'set_aside', code: 'right_missing', detail: 'none', standing: 'kept' } as const;
  await inWrite(pool, firm.firm.id, (tx) => markDecided(tx, [{ ...decided, waitsFor: [firm.firm.ids.lone] }]));
  await inWrite(pool, firm.firm.id, (tx) => markTried(tx, [v7()], 1));
  await inRead(pool, firm.firm.id, (tx) => notReleased(tx, [v7()]));
  await retype(pool, firm.firm.id);
  await inWrite(pool, firm.firm.id, (tx) => rewriteMemories(tx, [{ feed: 'firm', id: v7(), merge: null }]));
  await rememberAgain(pool, firm.firm.id);
  await verifyFirm(pool, firm.firm.id);
}
