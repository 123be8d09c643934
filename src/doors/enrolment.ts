import type { Context } from '../context.ts';
import type { Role } from '../protocol/kind.ts';
import { Problem } from '../protocol/problem.ts';
import { oneEnrolment, type ShownEnrolment } from '../reads/enrolment-page.ts';
import { CODE_MINUTES } from '../store/enrolment-secret.ts';
import { withdrawEnrolment } from '../store/write/enrolment-rows.ts';
import type { Actor } from '../writes/batch.ts';
import { makeEnrolmentCode } from '../writes/enrol.ts';
import { mustBeRecord, mustRule } from './issue-rights.ts';

/** What an administrator or coordinator asks for. */
export interface CodeWish {
  readonly label: string;
  readonly role?: Role | undefined;
  readonly device?: string | undefined;
  readonly crew?: string | undefined;
  readonly person?: string | undefined;
  readonly minutes?: number | undefined;
}

/** A crew token speaks for a device; one that is on record has its crew and person already. */
function mustSayWho({ role = 'crew', device, crew, person }: CodeWish): void {
  if (device !== undefined && (crew !== undefined || person !== undefined)) {
    const detail =
      '/device is on record with its crew and person: give either the device, or crew and person of a new one';
    throw new Problem('unreadable_record', detail, { pointer: '/device' });
  }
  if (role !== 'crew' || device !== undefined || crew !== undefined) return;
  const detail = '/device or /crew is missing: the token of a crew speaks for a device, which belongs to a crew';
  throw new Problem('unreadable_record', detail, { pointer: '/device' });
}

/**
 * Makes a code. A coordinator may, as they may issue the tokens of crews: it is the coordinator whom a crew rings up at
 * six in the morning.
 *
 * @returns the code, this once, and what the list will say of it
 */
export async function makeCode(
  ctx: Context,
  actor: Actor,
  wish: CodeWish,
): Promise<ShownEnrolment & { readonly code: string }> {
  const { label, role = 'crew', device, crew, person, minutes = CODE_MINUTES } = wish;
  mustRule(actor.role, role);
  await mustBeRecord(ctx, actor.firm, 'device', device);
  await mustBeRecord(ctx, actor.firm, 'crew', crew);
  if (person !== undefined) await mustBeMember(ctx, actor.firm, person);
  mustSayWho(wish);
  const who = { device: device ?? null, crew: crew ?? null, person: person ?? null };
  const made = { role, label, ...who, minutes, madeBy: actor.token };
  const { id, code } = await makeEnrolmentCode(ctx.pool, actor.firm, made, ctx.now());
  return { ...(await oneEnrolment(ctx, actor, id)), code };
}

async function mustBeMember(ctx: Context, firm: string, person: string): Promise<void> {
  try {
    await mustBeRecord(ctx, firm, 'member', person);
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    throw new Problem('unreadable_record', `/person ${person} is no member of the firm`, { pointer: '/person' });
  }
}

/** Withdrawing what gave out a token or withdrawn before changes nothing; what became of it is in the answer. */
export async function withdrawCode(ctx: Context, actor: Actor, id: string): Promise<ShownEnrolment> {
  mustRule(actor.role, (await oneEnrolment(ctx, actor, id)).role);
  await withdrawEnrolment(ctx.pool, actor.firm, id, ctx.now().toISOString());
  return oneEnrolment(ctx, actor, id);
}
