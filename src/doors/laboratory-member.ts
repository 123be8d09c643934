import { randomUUID } from 'node:crypto';
import type { Context } from '../context.ts';
import { laboratory as laboratoryKind } from '../protocol/kinds/laboratory.ts';
import { member } from '../protocol/kinds/member.ts';
import { SHORT_TEXT } from '../protocol/primitives.ts';
import { derivedId } from '../rules/derived-id.ts';
import { recordsById } from '../store/read/records.ts';
import type { Actor } from '../writes/batch.ts';
import { writeMany } from './write-many.ts';

/** Shown where the initials of a person are. */
const INITIALS = 'LAB';

/**
 * The member in whose name a laboratory says something: every observation names who read and who typed, and people of a
 * laboratory are no members of the firm. It is made when a laboratory first says something, as one who has left, so that no
 * phone offers it as the person who holds it. Its name at that time stays.
 */
export async function laboratoryMember(ctx: Context, actor: Actor, laboratory: string): Promise<string> {
  const id = derivedId(actor.firm, 'laboratory-member', laboratory);
  const known = await ctx.records.read(actor.firm, (tx) => recordsById(tx, [id, laboratory]));
  if (known.some(({ state }) => state.id === id)) return id;
  const its = known.find(({ state }) => state.kind === laboratoryKind.name)?.state.fields.name;
  const name = `${typeof its === 'string' ? its : laboratory} (laboratory)`.slice(0, SHORT_TEXT);
  // no laboratory writes members: the server does, this one record and nothing else, with the right of an admin
  const asServer: Actor = { ...actor, role: 'admin', person: null };
  const set = { name, initials: INITIALS, standing: 'left' };
  await writeMany(ctx, asServer, randomUUID(), [{ verb: 'record', kind: member.name, id, set }]);
  return id;
}
