import type pg from 'pg';
import { v7 } from 'uuid';
import type { Role } from '../../src/protocol/kind.ts';
import type { Attack } from './attacks.ts';
import { type LeakDetector, told } from './leaks.ts';
import type { Speaker } from './speaker.ts';
import { ALL_ROLES } from './two-firms.ts';

export type Speakers = Readonly<Record<Role, Speaker>>;

/** With LONG=1 every place is tried with every role; otherwise every address, and each place in a body with one. */
const LONG = process.env.LONG === '1';

function rolesFor(attack: Attack, at: number, roles: readonly Role[]): readonly Role[] {
  const allowed = roles.filter((role) => attack.roles.includes(role));
  if (LONG || !attack.place.startsWith('body')) return allowed;
  return allowed.slice(at % allowed.length, (at % allowed.length) + 1);
}

/** So many at once, as the requests of several people would come. */
export async function inParallel<Item>(
  items: readonly Item[],
  lines: number,
  work: (item: Item, at: number) => Promise<void>,
): Promise<void> {
  const entries = items.entries();
  const line = async () => {
    for (const [at, item] of entries) await work(item, at);
  };
  await Promise.all(Array.from({ length: lines }, line));
}

const LINES = 6;

/** What cannot be read tells nothing of what is known: then the attack was none, and its body must be made better. */
const UNREAD = /"code":"(unreadable_\w+|bad_request|query_too_costly)"/;

export interface Tried {
  /** What the attacks brought to light. */
  readonly faults: readonly string[];
  readonly requests: number;
  /** How often each status came. */
  readonly statuses: ReadonlyMap<number, number>;
}

/**
 * Tries each attack with the id of the other firm and with one that nobody has: the two answers must be the same, and
 * hold nothing of the other firm.
 */
export async function tryAll(
  attacks: readonly Attack[],
  speakers: Speakers,
  leaks: LeakDetector,
  roles: readonly Role[] = ALL_ROLES,
  lines: number = LINES,
): Promise<Tried> {
  const faults: string[] = [];
  const statuses = new Map<number, number>();
  let requests = 0;
  await inParallel(attacks, lines, async (attack, at) => {
    const absent = v7();
    for (const role of rolesFor(attack, at, roles)) {
      const name = `${role}: ${attack.name}, ${attack.place}`;
      const known = await speakers[role].ask(attack.with(attack.foreign));
      const unknown = await speakers[role].ask(attack.with(absent));
      requests += 2;
      statuses.set(known.status, (statuses.get(known.status) ?? 0) + 1);
      const [one, other] = [told(known, attack.foreign), told(unknown, absent)];
      if (one !== other) faults.push(`${name}: of the other firm ${one}; of nobody ${other}`);
      const unread = UNREAD.test(known.text) && !known.text.includes(attack.foreign);
      if (known.status >= 500 || unread) faults.push(`${name}: ${known.status} ${known.text}`);
      for (const leak of [...leaks.in(known.text), ...leaks.in(JSON.stringify(known.headers))])
        faults.push(`${name} tells ${leak}`);
    }
  });
  return { faults, requests, statuses };
}

const FIRM_TABLES = `select c.relname as name from pg_class c join pg_attribute a on a.attrelid = c.oid
where c.relnamespace = 'public'::regnamespace and c.relkind = 'r' and a.attname = 'firm' and not a.attisdropped
order by 1`;

/** Tables whose rows belong to a firm. */
export async function firmTables(pool: pg.Pool): Promise<string[]> {
  return (await pool.query<{ name: string }>(FIRM_TABLES)).rows.map(({ name }) => name);
}

/** A hash of everything that a firm has, table by table. */
export async function digestOf(bypass: pg.Pool, firm: string): Promise<Record<string, string>> {
  const digests: Record<string, string> = {};
  for (const table of await firmTables(bypass)) {
    const text = `select count(*) || ' ' || coalesce(md5(string_agg(t::text, ',' order by t::text)), '') as digest
from "${table}" t where firm = $1`;
    digests[table] = (await bypass.query<{ digest: string }>(text, [firm])).rows[0]?.digest ?? '';
  }
  return digests;
}
