import { randomUUID } from 'node:crypto';
import fc from 'fast-check';
import type pg from 'pg';
import { v7 } from 'uuid';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';
import type { RecordState } from '../../src/protocol/record.ts';
import type { TestFirm } from '../support/test-firm.ts';
import { purgeDrafts, readingDraft } from '../support/visit-drafts.ts';
import { type ApiDocument, operationsOf, resolved, type Schema } from './api-document.ts';
import { idsOf } from './firm-ids.ts';
import { arbitraryOf, type Making } from './schema-arbitrary.ts';
import { mustDo, type Speaker } from './speaker.ts';

export interface Planting {
  readonly firm: TestFirm;
  readonly document: ApiDocument;
  readonly office: Speaker;
  readonly crew: Speaker;
  /** What every text says. */
  readonly text: string;
  readonly bypass: pg.Pool;
}

/** Texts that must be among a list which no schema tells. */
export const NAMED_TEXTS: Readonly<Record<string, string>> = {
  criteria: 'epa-region-1-low-stress-rev-4',
  timeZone: 'America/Chicago',
  casNumber: '71-43-2',
  group: 'volatiles',
  variant: 'as-prescribed',
};

/** Records of each kind: one that attacks name, one that they never do, and two whose ids another firm takes. */
const EACH = 4;

/** A visit with a purge that raises flags, is assessed, and has a conflict that was decided and one that was not. */
async function plantVisit({ firm, crew, office, text }: Planting): Promise<void> {
  const { ids, drafts } = purgeDrafts(firm, { well: firm.ids.deep });
  const odd = readingDraft(firm, ids.purge, 25, { ph: '15.00', depthToWaterFt: '99.00', remark: text });
  for (const { kind, id, set } of [...drafts, odd]) {
    await mustDo(crew, { method: 'POST', url: `/v1/${kind}s`, payload: { id, ...set } });
  }
  await plantConflicts({ crew, office, text }, ids.purge);
}

/** What two people say of one field without knowing of each other, twice; one of the two is decided. */
async function plantConflicts({ crew, office, text }: Pick<Planting, 'crew' | 'office' | 'text'>, purge: string) {
  const url = `/v1/purges/${purge}`;
  const base = { rev: 1 };
  await mustDo(crew, { method: 'PATCH', url, payload: { base, remark: `${text} 1`, ended: '2026-05-04T11:00:00Z' } });
  await mustDo(office, { method: 'PATCH', url, payload: { base, remark: `${text} 2`, ended: '2026-05-04T11:30:00Z' } });
  const { items } = await mustDo(office, { method: 'GET', url: `/v1/conflicts?subject=${purge}` });
  const conflicts = items as { id: string; rev: number; fields: { field: string } }[];
  const [remark, ended] = ['remark', 'ended'].map((field) => conflicts.find((one) => one.fields.field === field));
  if (!remark || !ended)
    throw new Error(`two people changed two fields, and the conflicts are ${JSON.stringify(items)}`);
  const payload = { base: { rev: remark.rev }, value: `${text} 1`, reason: text };
  await mustDo(office, { method: 'POST', url: `/v1/conflicts/${remark.id}/resolve`, payload });
}

/** One that waits for another record, one for a person, one for a right, and one that nobody can read. */
async function plantSetAsides({ firm, crew, office, text }: Planting): Promise<void> {
  const nests = { method: 'POST', url: '/v1/nests' } as const;
  await mustDo(office, { ...nests, payload: { site: v7(), name: text } });
  await mustDo(office, { ...nests, payload: { site: firm.ids.lone, name: text } });
  await mustDo(crew, { ...nests, payload: { site: firm.ids.site, name: text } });
  const header = { client: randomUUID(), schemaVersion: 1, first: 1, count: 1 };
  const payload = `${JSON.stringify(header)}\n{"${text}\n`;
  const headers = { 'content-type': 'application/x-ndjson' };
  await mustDo(crew, { method: 'POST', url: '/v1/sync/push', payload, headers });
}

function makingOf(planting: Planting, whole: boolean, idFor: (field: string) => string): Making {
  return {
    document: planting.document,
    whole,
    ids: (field) => fc.constant(idFor(field)),
    texts: (field) => fc.constant(NAMED_TEXTS[field] ?? planting.text),
  };
}

/** The first of many bodies that can be read: a schema does not tell of every rule. */
async function plantOne(by: Speaker, url: string, bodies: readonly unknown[]): Promise<void> {
  let last = '';
  for (const body of bodies) {
    const { requires: _, by: __, id: ___, ...payload } = body as Record<string, unknown>;
    const { status, text } = await by.ask({ method: 'POST', url, payload });
    if (status === 201) return;
    last = `${status} ${text}`;
  }
  throw new Error(`no body made for POST ${url} was taken: ${last}`);
}

async function plantKinds(planting: Planting): Promise<void> {
  const recording = new Map(
    operationsOf(planting.document)
      .filter((one) => one.method === 'POST')
      .map((one) => [one.path, one]),
  );
  for (const { name, plural } of KINDS.filter((kind) => kind.name !== 'firm')) {
    const { body, path } = recording.get(`/v1/${plural}`) ?? { body: null, path: '' };
    if (body === null) continue;
    const ids = await idsOf(planting.bypass, planting.firm.id);
    const sampled = (whole: boolean) => {
      const making = makingOf(planting, whole, (field) => ids.find(field) ?? v7());
      return fc.sample(arbitraryOf(body, name, making), { seed: 1, numRuns: whole ? 4 : 20 });
    };
    const bodies = [...sampled(true), ...sampled(false)];
    // one at least is made whole, with every text that a record of the kind may have
    const missing = Math.max(1, EACH - (ids.byKind.get(name)?.length ?? 0));
    for (let count = 0; count < missing; count++) await plantOne(planting.office, path, bodies.slice(count));
  }
}

/** The value with every text in it that a person may choose, replaced. */
function renamed(document: ApiDocument, value: unknown, named: Schema, field: string, text: string): unknown {
  const schema = resolved(document, named);
  const { anyOf, items = {}, properties = {}, additionalProperties } = schema;
  if (anyOf) return renamed(document, value, anyOf.find((one) => one.type !== 'null') ?? {}, field, text);
  if (typeof value === 'string') {
    const free = schema.type === 'string' && !schema.pattern && !schema.enum && schema.const === undefined;
    return free && !(field in NAMED_TEXTS) ? text : value;
  }
  if (Array.isArray(value)) return value.map((one) => renamed(document, one, items, field, text));
  if (typeof value !== 'object' || value === null) return value;
  const others = typeof additionalProperties === 'object' ? additionalProperties : {};
  return Object.fromEntries(
    Object.entries(value).map(([name, inner]) => [
      name,
      renamed(document, inner, properties[name] ?? others, name, text),
    ]),
  );
}

const STATES = `select l.state from head h join ledger l on l.firm = h.firm and l.feed = h.feed and l.seq = h.seq
where h.firm = $1 and not h.gone`;

/** Changes every record whose texts say anything else. */
async function plantTexts({ bypass, document, firm, office, text }: Planting): Promise<void> {
  const changes = new Map(
    operationsOf(document)
      .filter((one) => one.method === 'PATCH')
      .map((one) => [one.path, one.body]),
  );
  const { rows } = await bypass.query<{ state: RecordState }>(STATES, [firm.id]);
  for (const { state } of rows) {
    const plural = KINDS.find(({ name }) => name === state.kind)?.plural;
    const schema = changes.get(`/v1/${plural}/{id}`);
    if (!schema) continue;
    const fields = renamed(document, state.fields, schema, '', text) as Record<string, unknown>;
    const set = Object.entries(fields).filter(
      ([name, value]) => JSON.stringify(value) !== JSON.stringify(state.fields[name]),
    );
    if (set.length === 0) continue;
    const payload = { ...Object.fromEntries(set), reason: text, base: { rev: state.rev } };
    await mustDo(office, { method: 'PATCH', url: `/v1/${plural}/${state.id}`, payload });
  }
}

/** A code that a phone of the firm waits for. */
async function plantCode({ firm, office, text }: Planting): Promise<void> {
  const payload = { label: text, device: firm.ids.phone };
  await mustDo(office, { method: 'POST', url: '/v1/enrolment-codes', payload });
}

/** Fills a firm through the doors, until it has some of everything. */
export async function plant(planting: Planting): Promise<void> {
  await plantVisit(planting);
  await plantKinds(planting);
  await plantTexts(planting);
  await plantSetAsides(planting);
  await plantCode(planting);
}
