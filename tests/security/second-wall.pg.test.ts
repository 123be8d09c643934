import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { OWNER_ROLE } from '../../src/store/role-names.ts';
import { type TestDatabase, testDatabase } from '../support/test-database.ts';
import { firmTables } from './matrix.ts';

let db: TestDatabase;

beforeAll(async () => {
  db = await testDatabase();
});
afterAll(() => db.drop());

async function ask<Row>(text: string, values: readonly unknown[] = []): Promise<Row[]> {
  return (await db.bypass.query(text, [...values])).rows as Row[];
}

/** Tables without a firm: what they hold is of the installation. A new one has to be thought about, and added here. */
const OF_NO_FIRM = ['_prisma_migrations', 'backup', 'epoch', 'installation'];

/** Policies beside that of the own firm: whoever shows a token or a code sees its row; the owner may list the firms. */
const WIDER: Readonly<Record<string, readonly string[]>> = {
  token: ['shown_token'],
  enrolment_code: ['shown_code'],
  firm: ['listed_firm'],
};

describe('the role of the application', () => {
  it('is no superuser, steps over no row-level security, and may make neither roles nor databases', async () => {
    const { rows } = await db.pool.query(
      `select rolsuper, rolbypassrls, rolcreaterole, rolcreatedb, rolreplication from pg_roles where rolname = current_user`,
    );
    const no = {
      rolsuper: false,
      rolbypassrls: false,
      rolcreaterole: false,
      rolcreatedb: false,
      rolreplication: false,
    };
    expect(rows).toEqual([no]);
  });

  it('is a member of no other role', async () => {
    const { rows } = await db.pool.query(
      `select r.rolname from pg_auth_members m join pg_roles r on r.oid = m.roleid
where m.member = (select oid from pg_roles where rolname = current_user)`,
    );
    expect(rows).toEqual([]);
  });

  it('owns nothing, and may make nothing', async () => {
    const { rows } = await db.pool.query(
      `select relname as name from pg_class where pg_get_userbyid(relowner) = current_user
union all select proname from pg_proc where pg_get_userbyid(proowner) = current_user
union all select 'schema ' || nspname from pg_namespace where has_schema_privilege(current_user, oid, 'create')
union all select 'database' where has_database_privilege(current_user, current_database(), 'create')`,
    );
    expect(rows).toEqual([]);
  });

  it('may empty no table, and rewrites neither history nor the list of migrations', async () => {
    const { rows } = await db.pool.query(
      `select relname || ' ' || p as may from pg_class c cross join unnest(array['truncate','trigger','references']) p
where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and has_table_privilege(current_user, c.oid, p)
union all select t || ' ' || p from unnest(array['ledger', 'receipt', 'installation', '_prisma_migrations']) t
cross join unnest(array['update', 'delete']) p where has_table_privilege(current_user, t, p)
union all select t || ' insert' from unnest(array['installation', '_prisma_migrations']) t
where has_table_privilege(current_user, t, 'insert')`,
    );
    expect(rows).toEqual([]);
  });
});

describe('every table', () => {
  it('has a firm, unless it is known to have none', async () => {
    const all = await ask<{ name: string }>(
      `select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind in ('r', 'p', 'f')`,
    );
    const firms = await firmTables(db.bypass);
    expect(
      all
        .map(({ name }) => name)
        .filter((name) => !firms.includes(name))
        .sort(),
    ).toEqual(OF_NO_FIRM);
    expect(firms.length).toBeGreaterThan(30);
  });

  it('of a firm shows and takes only rows of the firm that is set: forced, for every command', async () => {
    const rows = await ask<{ name: string; enabled: boolean; forced: boolean; own: number; wider: string[] }>(
      `select c.relname as name, c.relrowsecurity as enabled, c.relforcerowsecurity as forced,
  count(*) filter (where p.permissive = 'PERMISSIVE' and p.cmd = 'ALL' and p.roles = '{public}'
    and p.qual = '(firm = current_firm())' and p.with_check = '(firm = current_firm())')::int as own,
  coalesce(array_agg(p.policyname::text) filter (where p.policyname <> 'own_firm'), '{}') as wider
from pg_class c left join pg_policies p on p.schemaname = 'public' and p.tablename = c.relname
where c.relname = any($1) and c.relnamespace = 'public'::regnamespace group by 1, 2, 3`,
      [await firmTables(db.bypass)],
    );
    const weak = rows.filter(({ enabled, forced, own, name, wider }) => {
      const known = WIDER[name] ?? [];
      return !enabled || !forced || own !== 1 || JSON.stringify(wider) !== JSON.stringify(known);
    });
    expect(weak).toEqual([]);
    expect(rows.length).toBe((await firmTables(db.bypass)).length);
  });

  it('shows the names of all firms to the owner alone, and to be read only', async () => {
    const text = `select roles::text, cmd from pg_policies where tablename = 'firm' and policyname = 'listed_firm'`;
    expect(await ask(text)).toEqual([{ roles: `{${OWNER_ROLE}}`, cmd: 'SELECT' }]);
    expect((await db.pool.query('select id from firm')).rows).toEqual([]);
  });

  it('of a firm has the firm first in every key, and in every reference to another table', async () => {
    const rows = await ask<{
      name: string;
      constraint: string;
      columns: string[];
      to: string | null;
      target: string[] | null;
    }>(
      `select c.conrelid::regclass::text as name, c.conname as constraint, c.confrelid::regclass::text as to,
  array(select attname::text from unnest(c.conkey) with ordinality k(n, at) join pg_attribute a on a.attrelid = c.conrelid
    and a.attnum = k.n order by at) as columns,
  case when c.contype = 'f' then array(select attname::text from unnest(c.confkey) with ordinality k(n, at)
    join pg_attribute a on a.attrelid = c.confrelid and a.attnum = k.n order by at) end as target
from pg_constraint c join pg_namespace n on n.oid = c.connamespace
where n.nspname = 'public' and c.contype in ('p', 'u', 'f')`,
    );
    const tables = await firmTables(db.bypass);
    const astray = rows.filter(({ name, columns, target, constraint }) => {
      if (!tables.includes(name.replaceAll('"', ''))) return false;
      // looked up before the firm is known, and random: no firm can learn anything by meeting another's
      if (constraint === 'token_hash_key' || constraint === 'enrolment_code_hash_key') return false;
      return columns[0] !== 'firm' || (target !== null && target[0] !== 'firm');
    });
    expect(astray).toEqual([]);
    expect(rows.length).toBeGreaterThan(60);
  });

  it('is reached by no view and no function that runs with the rights of another', async () => {
    const rows = await ask(
      `select relname as name from pg_class where relnamespace = 'public'::regnamespace and relkind in ('v', 'm')
union all select proname from pg_proc where pronamespace = 'public'::regnamespace and prosecdef`,
    );
    expect(rows).toEqual([]);
  });
});

describe('without a firm that is set', () => {
  it('no row of any firm is shown, whatever the setting holds', async () => {
    await ask(
      `insert into head (firm, feed, id, kind, seq, rev, gone) values (gen_random_uuid(), 'firm', gen_random_uuid(), 'crew', 1, 1, false)`,
    );
    for (const setting of [null, '', '00000000-0000-0000-0000-000000000000']) {
      const client = await db.pool.connect();
      await client.query('begin');
      if (setting !== null) await client.query(`select set_config('wellround.firm', $1, true)`, [setting]);
      expect((await client.query('select count(*) as n from head')).rows).toEqual([{ n: 0 }]);
      await client.query('rollback');
      client.release();
    }
  });

  it('a setting that is no firm is an error, and not every firm', async () => {
    const client = await db.pool.connect();
    await client.query('begin');
    await client.query(`select set_config('wellround.firm', 'x', true)`);
    await expect(client.query('select * from head')).rejects.toThrow(/invalid input syntax for type uuid/);
    await client.query('rollback');
    client.release();
  });
});
