import type pg from 'pg';
import { KINDS } from '../../src/protocol/kinds-by-name.ts';

/** Fields that name a member, beside those that name a kind in every kind alike. */
const MEMBERS = ['by', 'person', 'readBy', 'writtenBy'];

/** field -> kind, as the definitions of all kinds say. */
const KIND_OF_FIELD = new Map<string, string>([
  ...KINDS.map(({ name }): [string, string] => [name, name]),
  ...KINDS.flatMap(({ references }) => Object.entries(references) as [string, string][]),
  ...MEMBERS.map((field): [string, string] => [field, 'member']),
  ['client', 'client'],
]);

const KIND_OF_PLURAL = new Map<string, string>([
  ...KINDS.map(({ name, plural }): [string, string] => [plural, name]),
  ['tokens', 'token'],
  ['enrolment-codes', 'enrolment-code'],
  ['set-asides', 'set-aside'],
]);

/** The kind of record whose id stands in the path; null where the path names what everybody knows. */
export function kindInPath(path: string): string | null {
  const [plural = ''] = path.split('/').slice(path.startsWith('/v1/laboratory/') ? 3 : 2);
  if (plural === 'criteria-sets') return null;
  const kind = KIND_OF_PLURAL.get(plural);
  if (kind === undefined) throw new Error(`what does the id in ${path} name? Say it in KIND_OF_PLURAL`);
  return kind;
}

/** The ids of a firm, by what they are of. */
export class FirmIds {
  readonly firm: string;
  /** Ids by kind; also of tokens, clients and what was set aside. */
  readonly byKind: ReadonlyMap<string, readonly string[]>;

  constructor(firm: string, byKind: ReadonlyMap<string, readonly string[]>) {
    this.firm = firm;
    this.byKind = byKind;
  }

  of(kind: string, at = 0): string {
    const ids = this.byKind.get(kind) ?? [];
    const id = ids[at] ?? ids[0];
    if (id === undefined) throw new Error(`the firm has no ${kind}: let plant.ts make one`);
    return id;
  }

  all(): string[] {
    return [this.firm, ...[...this.byKind.values()].flat()];
  }

  /** What a field of this name names: a visit where nothing tells. */
  kindOfField(field: string): string {
    return KIND_OF_FIELD.get(field) ?? 'visit';
  }

  kindOfPlural(plural: string): string | null {
    return KIND_OF_PLURAL.get(plural) ?? null;
  }

  /** An id that a field of this name would hold; of a visit where nothing says what it names. */
  forField(field: string): string {
    return this.of(KIND_OF_FIELD.get(field) ?? 'visit');
  }

  /** As forField; null where the firm has no such record. */
  find(field: string): string | null {
    return this.byKind.get(KIND_OF_FIELD.get(field) ?? 'visit')?.[0] ?? null;
  }

  /** What the path names, of this firm. */
  inPath(path: string, at = 0): string {
    const kind = kindInPath(path);
    return kind === null ? 'epa-region-1-low-stress-rev-4' : this.of(kind, at);
  }
}

/** What waits for a record comes first of what was set aside: it can be let go by nobody, so that each try is answered alike. */
const ALL_IDS = `select kind, id, 0 as place from head where firm = $1 and not gone
union all select 'token', id, 0 from token where firm = $1
union all select 'enrolment-code', id, 0 from enrolment_code where firm = $1
union all select 'client', id, 0 from client where firm = $1
union all select 'set-aside', id, case standing when 'waiting' then 0 else 1 end from set_aside where firm = $1
order by 1, 3, 2`;

export async function idsOf(bypass: pg.Pool, firm: string): Promise<FirmIds> {
  const { rows } = await bypass.query<{ kind: string; id: string }>(ALL_IDS, [firm]);
  const byKind = new Map<string, string[]>();
  for (const { kind, id } of rows) byKind.set(kind, [...(byKind.get(kind) ?? []), id]);
  return new FirmIds(firm, byKind);
}
