import { z } from 'zod';
import type { Context } from '../../../context.ts';
import { device as deviceKind } from '../../../protocol/kinds/device.ts';
import { member as memberKind } from '../../../protocol/kinds/member.ts';
import { id } from '../../../protocol/primitives.ts';
import { Problem } from '../../../protocol/problem.ts';
import type { RecordState } from '../../../protocol/record.ts';
import { whoAmI } from '../../../reads/who-am-i.ts';
import { recordById } from '../../../store/read/records.ts';
import type { Actor } from '../../../writes/batch.ts';
import { EVERY_ROLE, LABORATORY, type TokenMemory } from '../../authenticate.ts';
import { type Api, WRITERS } from '../api.ts';
import { change, refusalOf } from '../change.ts';
import { answer, BODY_CODES, problems } from '../problem-docs.ts';

const tags = ['me'];

const ANYBODY = [...EVERY_ROLE, ...LABORATORY];

/** What a laboratory asks and says, below /v1/laboratory; every other address is the firm's own. */
const OF_LABORATORY = [
  '/v1/laboratory/events',
  '/v1/laboratory/events/{id}/list.json',
  '/v1/laboratory/events/{id}/list.csv',
  '/v1/laboratory/events/{id}/list.xlsx',
  '/v1/laboratory/events/{id}/orders',
  '/v1/laboratory/events/{id}/receipts',
  '/v1/laboratory/events/{id}/discrepancies',
  '/v1/laboratory/events/{id}/discrepancies/{discrepancy}/decision',
  '/v1/laboratory/events/{id}/results.csv',
];

const ofLaboratory = z
  .strictObject({
    id,
    name: z.string().nullable(),
    mayUse: z
      .array(z.string())
      .describe('The addresses that it may ask and write to: what goes to it, and nothing else'),
  })
  .meta({ id: 'MyLaboratory' });

const me = z
  .strictObject({
    token: id,
    role: z.enum(ANYBODY),
    firm: z.strictObject({ id, name: z.string().nullable() }),
    device: z.strictObject({ id, label: z.string(), crew: id.nullable() }).nullable(),
    person: z.strictObject({ id, name: z.string(), initials: z.string() }).nullable().describe('At the device now'),
    laboratory: ofLaboratory.nullable().describe('The one that a token of that role speaks for'),
  })
  .meta({ id: 'Me' });

function textField(record: RecordState | null, field: string): string | null {
  const value = record?.fields[field];
  return typeof value === 'string' ? value : null;
}

async function meOf(ctx: Context, actor: Actor): Promise<z.output<typeof me>> {
  const { firm, device, person, laboratory } = await whoAmI(ctx, actor);
  return {
    token: actor.token,
    role: actor.role,
    firm: { id: actor.firm, name: textField(firm, 'name') },
    device: device && {
      id: device.id,
      label: textField(device, 'label') ?? '',
      crew: textField(device, 'crew'),
    },
    person: person && {
      id: person.id,
      name: textField(person, 'name') ?? '',
      initials: textField(person, 'initials') ?? '',
    },
    laboratory: laboratory && { id: laboratory.id, name: textField(laboratory, 'name'), mayUse: OF_LABORATORY },
  };
}

/** The device of the token as it stands, and that the person is a member of the firm who has not left. */
async function deviceFor(ctx: Context, actor: Actor, person: string): Promise<RecordState> {
  return ctx.records.read(actor.firm, async (tx) => {
    const device = actor.device === null ? null : await recordById(tx, actor.device);
    if (device?.state.kind !== deviceKind.name) {
      throw new Problem('record_missing', 'the token belongs to no device, so nobody can be at it');
    }
    const member = await recordById(tx, person);
    const stands = member?.state.kind === memberKind.name && member.state.voided === null;
    if (stands && member.state.fields.standing === 'active') return device.state;
    throw new Problem('unreadable_record', `/person ${person} is no active member of the firm`, { pointer: '/person' });
  });
}

/**
 * Who holds a phone changes at the truck, without the office: a crew has no right to write devices, but may say who is
 * at its own. So the change goes through the write door as the device itself with the right of an admin, confined to
 * this one field of this one record, and on behalf of the person who takes it.
 */
async function takeOver(ctx: Context, actor: Actor, key: string, person: string): Promise<void> {
  const device = await deviceFor(ctx, actor, person);
  if (device.fields.person === person) return;
  const asDevice: Actor = { ...actor, role: 'admin', person };
  const shot = {
    verb: 'amend',
    kind: deviceKind.name,
    id: device.id,
    base: { rev: device.rev },
    set: { person },
    by: person,
  } as const;
  const done = await change(ctx, asDevice, key, shot);
  if (done.outcome.rev === undefined) throw refusalOf(done);
}

/** GET /me and PUT /me/person. */
export function meRoutes(api: Api, ctx: Context, memory: TokenMemory): void {
  const shown = answer('Firm, role, device and person', me);
  const get = { operationId: 'getMe', summary: 'Who am I', tags, response: { 200: shown, ...problems() } };
  api.get('/me', { schema: get, config: { access: ANYBODY } }, async (request) => meOf(ctx, request.actor));
  const put = {
    operationId: 'putMyPerson',
    summary: 'Say who is at this device now',
    description: 'One call where a phone changes hands; the device and its outbox stay what they are.',
    tags,
    body: z.strictObject({ person: id }).meta({ id: 'MyPerson' }),
    response: { 200: shown, ...problems('record_missing', ...BODY_CODES) },
  };
  api.put('/me/person', { schema: put, config: { access: WRITERS } }, async (request) => {
    // its own id names the request: the second of two equal ones has nothing left to change
    await takeOver(ctx, request.actor, request.id, request.body.person);
    memory.forget();
    return meOf(ctx, request.actor);
  });
}
