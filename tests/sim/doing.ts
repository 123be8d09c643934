import type { FieldClient } from '../../src/client/client.ts';
import { LocalError } from '../../src/client/local-error.ts';
import type { ViewRecord } from '../../src/client/overlay.ts';
import type { OutboxEntry } from '../../src/client/store.ts';
import type { Chance } from './chance.ts';
import type { Features } from './features.ts';
import type { Seen } from './history.ts';
import { Died, type SimPhone } from './sim-phone.ts';

/** What people tell each other by radio: records that a phone may name before it holds them. */
export interface Told {
  readonly visits: string[];
  readonly purges: { readonly id: string; readonly visit: string }[];
  /** Numbers every value, so that no two are alike. */
  values: number;
}

export interface Doing {
  readonly phone: SimPhone;
  readonly chance: Chance;
  readonly features: Features;
  readonly told: Told;
}

export type Action = (doing: Doing, client: FieldClient) => Promise<void>;

/** The newest capture of the phone, where the number of captures grew. */
function captured(phone: SimPhone, before: number): OutboxEntry | null {
  const { identity, entries } = phone.contents;
  if (!identity || identity.sequence === before) return null;
  return [...entries.values()].find(({ sequence }) => sequence === identity.sequence) ?? null;
}

async function seenOf({ client, contents }: SimPhone, id: string | null): Promise<Seen> {
  const view = id === null ? null : await client.one(id);
  const followed = new Set(contents.feeds.keys());
  return { seen: view?.record.fields ?? null, sawVoid: Boolean(view?.record.voided), followed };
}

/** Notes what the screen showed, lets the person do it, and looks whether the phone shows it. */
export async function note(
  doing: Doing,
  id: string | null,
  run: (client: FieldClient) => Promise<unknown>,
): Promise<string | null> {
  const { phone } = doing;
  if (!phone.isOn) return null;
  const seen = await seenOf(phone, id);
  const before = phone.contents.identity?.sequence ?? 0;
  try {
    await run(phone.client);
  } catch (error) {
    if (!(error instanceof Died) && !(error instanceof LocalError)) throw error;
  }
  const entry = captured(phone, before);
  if (!entry) return null;
  phone.options.history.add(phone.at, entry, seen);
  if (phone.isOn) await mustShow(phone, entry);
  return entry.id;
}

async function mustShow(phone: SimPhone, entry: OutboxEntry): Promise<void> {
  const { verb, set = {} } = JSON.parse(entry.line) as { verb: string; set?: Record<string, unknown> };
  if (verb !== 'record' && verb !== 'amend') return;
  const fields = (await phone.client.one(entry.id))?.record.fields ?? {};
  const missing = Object.keys(set).filter((field) => JSON.stringify(fields[field]) !== JSON.stringify(set[field]));
  if (missing.length === 0) return;
  const detail = `phone ${phone.at} does not show its own ${missing.join()} of ${entry.kind} ${entry.id}`;
  phone.options.findings.add('causal and atomic', detail);
}

export function nextText({ told }: Doing): string {
  told.values += 1;
  return `value ${told.values}`;
}

export function nextFigure({ told }: Doing, whole: string): string {
  told.values += 1;
  return `${whole}.${String(told.values).padStart(4, '0')}`;
}

export function standing(views: readonly ViewRecord[]): ViewRecord[] {
  return views.filter(({ record }) => !record.voided);
}

/** A record of one of the kinds, whichever the phone shows. */
export async function someRecord(
  doing: Doing,
  client: FieldClient,
  ...kinds: string[]
): Promise<ViewRecord | undefined> {
  const first = doing.chance.below(kinds.length);
  for (const kind of [...kinds.slice(first), ...kinds.slice(0, first)]) {
    const found = standing(await client.all(kind));
    // the oldest more often than the others, so that people meet at it, and soon where there is little time
    if (found[0]) return doing.chance.yes(doing.features.begun ? 0.9 : 0.6) ? found[0] : doing.chance.pick(found);
  }
  return undefined;
}
