import { v7 } from 'uuid';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { PageArgs } from '../../src/reads/page-args.ts';
import { pagesUnder, type RecordListPage } from '../../src/reads/record-list.ts';
import { naturalOrder } from '../../src/store/read/record-order.ts';
import { relation } from '../../src/store/read/record-relations.ts';
import { inRead } from '../../src/store/read/transaction.ts';
import { TYPED_TABLES } from '../../src/store/tables.ts';
import { ask } from '../doors/graphql/ask.ts';
import { type TestApp, testApp } from '../support/test-app.ts';
import type { Draft } from '../support/test-firm.ts';

type Label = string | undefined;

/** Upper case sorts before lower case, whatever the language of the database. */
const LABELS: readonly Label[] = [undefined, 'a', 'B'];
const MOST = 4;

interface Part {
  readonly id: string;
  readonly label: Label;
}

/** All that a list of up to four may be: which label, or none, each of the ids has. */
const LISTS: readonly (readonly Label[])[] = (function all(length: number): Label[][] {
  if (length === 0) return [[]];
  const shorter = all(length - 1);
  const longest = shorter.filter((list) => list.length === length - 1);
  return [...shorter, ...longest.flatMap((list) => LABELS.map((label) => [...list, label]))];
})(MOST).filter((list) => list.length > 0);

let t: TestApp;
let token: string;
/** The parts that are kept for each well, in the order in which they are to be listed. */
const wells = new Map<string, Part[]>();

function inOrder(parts: readonly Part[]): Part[] {
  const key = ({ label, id }: Part) => `${label ?? '~'} ${id}`;
  return parts.toSorted((a, b) => (key(a) < key(b) ? -1 : 1));
}

beforeAll(async () => {
  t = await testApp();
  token = await t.token('coordinator');
  const office = await t.firm.client('coordinator');
  const drafts: Draft[] = [];
  for (const [at, list] of LISTS.entries()) {
    const well = v7();
    const parts = list.map((label) => ({ id: v7(), label }));
    const standing = { standing: 'in-service', depthsFrom: 'measuring-point' };
    drafts.push({ kind: 'well', id: well, set: { site: t.firm.ids.site, name: `W${at}`, ...standing } });
    // the order of arrival says nothing either
    for (const { id, label } of at % 2 === 0 ? parts : parts.toReversed()) {
      const set = { type: 'tubing', dedicatedTo: well, ...(label === undefined ? {} : { label }) };
      drafts.push({ kind: 'part', id, set });
    }
    wells.set(well, inOrder(parts));
  }
  for (let at = 0; at < drafts.length; at += 100) {
    const outcomes = await office.push(...drafts.slice(at, at + 100));
    expect(new Set(outcomes.map(({ outcome }) => outcome))).toEqual(new Set(['applied']));
  }
}, 60_000);
afterAll(() => t.close());

const BASE = { kind: 'part', equal: {}, includeVoided: false };

interface Edges {
  readonly edges: readonly { readonly cursor: string; readonly node: { readonly id: string } }[];
  readonly more: boolean;
}

/** Reads a list to its end, forward or backward. @returns the ids, and the cursor of each */
async function readWhole(size: number, backward: boolean, ask: (args: PageArgs) => Promise<Edges>) {
  const seen: { id: string; cursor: string }[] = [];
  for (let from: string | null = null, pages = 0; pages < 1_000; pages++) {
    const args: PageArgs = backward ? { last: size, before: from } : { first: size, after: from };
    const { edges, more } = await ask(args);
    const these = edges.map(({ cursor, node }) => ({ id: node.id, cursor }));
    if (backward) seen.unshift(...these);
    else seen.push(...these);
    if (!more) return seen;
    expect(these).toHaveLength(size);
    from = (backward ? these[0] : these.at(-1))?.cursor ?? null;
  }
  throw new Error('the list does not end');
}

function edgesOf(page: RecordListPage | undefined, { last }: PageArgs): Edges {
  if (!page) throw new Error('no page was given');
  return { edges: page.edges, more: last == null ? page.hasNextPage : page.hasPreviousPage };
}

const PAGES = [1, 2, 3].flatMap((size) => [false, true].map((backward) => ({ size, backward })));

it('knows of every kind whether what its lists are sorted by may be missing', () => {
  const missing = Object.keys(TYPED_TABLES).filter((kind) => naturalOrder(kind).maybeMissing);
  expect(missing).toEqual(['part']);
});

describe('a list that is sorted by a label which some lack', () => {
  it.each(PAGES)('has each record once and in order by pages of $size (backward: $backward)', async (asked) => {
    const list = { ...BASE, relation: relation('well', 'parts') };
    await inRead(t.db.pool, t.firm.id, async (tx) => {
      for (const [well, parts] of wells) {
        const seen = await readWhole(asked.size, asked.backward, async (args) =>
          edgesOf((await pagesUnder(tx, null, list, [well], args))[0], args),
        );
        const labels = parts.map(({ label }) => label ?? null);
        expect([labels, seen.map(({ id }) => id)]).toEqual([labels, parts.map(({ id }) => id)]);
      }
    });
  });

  it('gives what lies between any two places, with a label or without', async () => {
    const list = { ...BASE, relation: relation('well', 'parts') };
    await inRead(t.db.pool, t.firm.id, async (tx) => {
      for (const [well, parts] of [...wells].filter(([, all]) => all.length === 3)) {
        const ids = async (args: PageArgs) =>
          (await pagesUnder(tx, null, list, [well], args))[0]?.edges.map(({ cursor, node }) => ({
            cursor,
            id: node.id,
          }));
        const [first, second, third] = (await ids({ first: 3 })) ?? [];
        const between = { after: first?.cursor, before: third?.cursor };
        for (const size of [{ first: 3 }, { last: 3 }]) expect(await ids({ ...between, ...size })).toEqual([second]);
        expect(second?.id).toBe(parts[1]?.id);
      }
    });
  });

  const graph = async (args: PageArgs): Promise<Edges> => {
    const given = Object.entries(args).filter(([, value]) => value != null);
    const text = given.map(([name, value]) => `${name}:${JSON.stringify(value)}`).join(' ');
    const query = `{parts(${text}){pageInfo{hasNextPage hasPreviousPage} edges{cursor node{id}}}}`;
    type Info = { hasNextPage: boolean; hasPreviousPage: boolean };
    const { data, errors } = await ask<{ parts: Edges & { pageInfo: Info } }>(t, token, query);
    expect(errors).toEqual([]);
    const { pageInfo, edges } = data.parts;
    return { edges, more: args.last == null ? pageInfo.hasNextPage : pageInfo.hasPreviousPage };
  };

  it.each([false, true])('is told whole by GraphQL, across where the labels end (backward: %s)', async (backward) => {
    const all = inOrder([...wells.values()].flat()).map(({ id }) => id);
    const labelled = [...wells.values()].flat().filter(({ label }) => label !== undefined).length;
    const seen = await readWhole(7, backward, graph);
    expect(seen.map(({ id }) => id)).toEqual(all);
    for (const size of [1, 2, 3]) {
      const from = backward ? labelled + 3 : labelled - 4;
      const [a, b] = backward ? [from - size, from] : [from + 1, from + 1 + size];
      const cursor = seen[from]?.cursor ?? '';
      const { edges } = await graph(backward ? { last: size, before: cursor } : { first: size, after: cursor });
      expect(edges.map(({ node }) => node.id)).toEqual(all.slice(a, b));
    }
  });

  it.each([1, 2, 3])('is told whole by REST, by ids, in pages of %i', async (limit) => {
    const [well = '', parts = []] = [...wells].find(([, { length }]) => length === MOST) ?? [];
    const seen: string[] = [];
    for (let next: string | null = ''; next !== null; ) {
      const url: string = `/v1/parts?limit=${limit}&dedicatedTo=${well}${next && `&cursor=${next}`}`;
      const headers = { authorization: `Bearer ${token}` };
      const response = await t.app.inject({ method: 'GET', url, headers });
      expect([response.statusCode, response.body]).toEqual([200, expect.any(String)]);
      const page: { items: Part[]; next: string | null } = response.json();
      seen.push(...page.items.map(({ id }: Part) => id));
      next = page.next;
    }
    expect(seen).toEqual(parts.map(({ id }) => id).toSorted());
  });

  it('takes no cursor without a key where every record has one', async () => {
    const cursor = Buffer.from(JSON.stringify(['unit', 'label', null, v7()])).toString('base64url');
    const { errors } = await ask(t, token, `{units(first:1 after:"${cursor}"){edges{node{id}}}}`);
    expect(errors).toMatchObject([{ extensions: { code: 'bad_request' } }]);
  });
});
