import type { Context } from '../../src/context.ts';
import { issueToken, setUpFirm } from '../../src/writes/set-up-firm.ts';
import { type Entry, type IdOf, idBook } from '../firm/entry.ts';
import { equipmentEntries } from '../firm/equipment.ts';
import { LABORATORY, laboratoryEntries } from '../firm/laboratory.ts';
import { ADMIN, COORDINATOR, FIRM, peopleEntries } from '../firm/people.ts';
import { EVENT, planEntries } from '../firm/plan.ts';
import { serviceEntries } from '../firm/service-entries.ts';
import { SITE, siteEntries, ZONE } from '../firm/site.ts';
import { wellEntries } from '../firm/well-entries.ts';
import type { WorldClock } from './clock.ts';
import { postJson } from './laboratory-door.ts';
import { openPhone, type Phone, type PhoneOptions, syncPhone } from './phone.ts';

/** Where the play takes place: a server, reached over HTTP, and what issues its first tokens. */
export interface Host {
  readonly base: string;
  readonly ctx: Context;
  /** The clock that the server goes by. */
  readonly clock: WorldClock;
  /** Where phones whose records lie in files have theirs. */
  readonly folder: string;
}

/** The firm as the office has entered it. */
export interface EnteredFirm {
  readonly firm: string;
  readonly id: IdOf;
  readonly event: string;
  readonly site: string;
  readonly adminToken: string;
  readonly coordinatorToken: string;
  readonly dashboardToken: string;
  readonly laboratoryToken: string;
  /** The coordinator's computer. */
  readonly desk: Phone;
  readonly records: number;
}

async function enter(desk: Phone, entries: readonly Entry[]): Promise<number> {
  for (const { kind, id, set } of entries) await desk.client.record(kind, set, { id });
  return (await syncPhone(desk)).pushed;
}

const seeds = { admin: 11, coordinator: 12 };

function deskOptions(host: Host, label: string, token: string, seed: number): PhoneOptions {
  return { label, token, seed, base: host.base, world: host.clock, zone: ZONE };
}

/** People first, so that what follows says who entered it. */
async function enterAsAdmin(host: Host, token: string): Promise<{ id: IdOf; records: number }> {
  const desk = await openPhone(deskOptions(host, 'Office computer 1', token, seeds.admin));
  const id = idBook(desk.newId);
  const people = await enter(desk, peopleEntries(id));
  await desk.client.setPerson(id('member', ADMIN));
  const rest = await enter(desk, [
    ...siteEntries(id),
    ...wellEntries(id),
    ...equipmentEntries(id),
    ...serviceEntries(id),
    ...laboratoryEntries(id),
  ]);
  return { id, records: people + rest };
}

/** The samples of the round with their bottles, QC and blanks, as the plan asks for them. */
async function planSamples({ base }: Host, token: string, event: string): Promise<number> {
  const told = await postJson({ base, token }, `/v1/events/${event}/sampling-plan`, {});
  return (told as { readonly written: number }).written;
}

/** The firm with its people, site, wells and equipment, and the round with its plan; all through the write door. */
export async function enterFirm(host: Host): Promise<EnteredFirm> {
  const { pool, lane } = host.ctx;
  const now = host.clock.now();
  const { firm, admin } = await setUpFirm(pool, lane, FIRM, now);
  const { id, records } = await enterAsAdmin(host, admin.secret);
  const device = id('device', 'Office computer 2');
  const coordinator = await issueToken(pool, firm, { label: COORDINATOR, role: 'coordinator', device }, now);
  const dashboard = await issueToken(pool, firm, { label: 'Wall screen', role: 'dashboard' }, now);
  const desk = await openPhone(deskOptions(host, 'Office computer 2', coordinator.secret, seeds.coordinator));
  await desk.client.setPerson(id('member', COORDINATOR));
  const planned = await enter(desk, planEntries(id));
  const event = id('event', EVENT);
  const { secret: laboratoryToken } = (await postJson({ base: host.base, token: admin.secret }, '/v1/tokens', {
    label: LABORATORY,
    role: 'laboratory',
    laboratory: id('laboratory', LABORATORY),
  })) as { readonly secret: string };
  const written = await planSamples(host, coordinator.secret, event);
  await syncPhone(desk);
  return {
    firm,
    id,
    event,
    site: id('site', SITE),
    adminToken: admin.secret,
    coordinatorToken: coordinator.secret,
    dashboardToken: dashboard.secret,
    laboratoryToken,
    desk,
    records: records + planned + written,
  };
}
