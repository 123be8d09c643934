import type { RecordState } from '../../protocol/record.ts';
import { isSameJson } from '../../protocol/same-json.ts';
import type { Derived } from '../../rules/derive/derived.ts';

/** What follows here, beside what was pulled from the server of the same record. */
export interface Beside<Fields> {
  readonly id: string;
  /** Null where nothing gives rise to it here. */
  readonly here: Fields | null;
  /** Null where the server has said nothing of it, as far as was pulled. */
  readonly server: Fields | null;
  /** The revision of the server's word. */
  readonly rev: number | null;
  readonly agrees: boolean;
}

/** A JSON text has no undefined, a freshly derived record may. */
function plain<Fields>(fields: unknown): Fields {
  return JSON.parse(JSON.stringify(fields)) as Fields;
}

/** Both words of every record of a kind, by id. */
export function besideOf<Fields>(
  kind: string,
  derived: readonly Derived[],
  pulled: readonly RecordState[],
): Beside<Fields>[] {
  const here = new Map(derived.filter((one) => one.kind === kind).map((one) => [one.id, plain<Fields>(one.fields)]));
  const server = new Map(pulled.filter((one) => one.kind === kind).map((one) => [one.id, one]));
  return [...new Set([...here.keys(), ...server.keys()])].map((id) => {
    const own = here.get(id) ?? null;
    const said = server.get(id);
    const theirs = said === undefined ? null : (said.fields as Fields);
    const agrees = own !== null && theirs !== null && isSameJson(own, theirs);
    return { id, here: own, server: theirs, rev: said?.rev ?? null, agrees };
  });
}
