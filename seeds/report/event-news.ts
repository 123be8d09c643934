import type { RecordState } from '../../src/protocol/record.ts';
import type { EventStatus } from '../../src/reads/event-status-result.ts';
import type { Phone } from '../play/phone.ts';

/** A flag with the name of what it is about. */
export interface FlagNews {
  readonly rule: string;
  readonly severity: string;
  readonly addressee: string;
  readonly standing: string;
  readonly about: string;
  readonly sentence: string;
}

export interface ConflictNews {
  readonly type: string;
  readonly standing: string;
  /** The well, where the conflict is about something of a well. */
  readonly about: string;
  readonly sentence: string;
}

/** How an event stands, as a server says over HTTP and as its feeds tell in words. */
export interface EventNews {
  readonly status: EventStatus;
  readonly flags: readonly FlagNews[];
  readonly conflicts: readonly ConflictNews[];
  /** When a well was first stable, by its visit. */
  readonly firstStable: ReadonlyMap<string, string>;
}

async function recordsOf(desk: Phone, kind: string): Promise<RecordState[]> {
  const views = await desk.client.all(kind);
  return views.map(({ record }) => record).filter(({ voided }) => voided === null);
}

function textOf(value: unknown): string {
  return typeof value === 'string' ? value : '';
}

async function namesOf(desk: Phone): Promise<ReadonlyMap<string, string>> {
  const named = await Promise.all(['well', 'device', 'blank', 'cooler'].map((kind) => recordsOf(desk, kind)));
  const names = new Map(
    named.flat().map(({ id, fields }) => [id, textOf(fields.name ?? fields.label ?? fields.number)]),
  );
  const receipts = await recordsOf(desk, 'sample-receipt');
  return new Map([
    ...names,
    ...receipts.map(({ id, fields }) => [id, names.get(textOf(fields.cooler)) ?? ''] as const),
  ]);
}

async function flagNews(desk: Phone): Promise<FlagNews[]> {
  const names = await namesOf(desk);
  return (await recordsOf(desk, 'flag')).map(({ fields }) => ({
    rule: textOf(fields.rule),
    severity: textOf(fields.severity),
    addressee: textOf(fields.addressee),
    standing: textOf(fields.standing),
    about: names.get(textOf(fields.well ?? fields.subject)) ?? textOf(fields.subject),
    sentence: textOf(fields.sentence),
  }));
}

/** The well that a record belongs to, up through the reading's purge and the purge's visit. */
async function wellOf(desk: Phone, id: string): Promise<string> {
  const fields = (await desk.client.one(id))?.record.fields ?? {};
  if (typeof fields.well === 'string') return fields.well;
  const above = fields.visit ?? fields.purge;
  return typeof above === 'string' ? wellOf(desk, above) : '';
}

async function conflictNews(desk: Phone): Promise<ConflictNews[]> {
  const names = await namesOf(desk);
  const news: ConflictNews[] = [];
  for (const { fields } of await recordsOf(desk, 'conflict')) {
    const about = names.get(await wellOf(desk, textOf(fields.subject))) ?? '';
    const { type, standing, sentence } = fields;
    news.push({ type: textOf(type), standing: textOf(standing), about, sentence: textOf(sentence) });
  }
  return news;
}

async function firstStable(desk: Phone): Promise<ReadonlyMap<string, string>> {
  const visitOf = new Map((await recordsOf(desk, 'purge')).map(({ id, fields }) => [id, textOf(fields.visit)]));
  const held = (await recordsOf(desk, 'assessment')).flatMap(({ fields }): [string, string][] => {
    const visit = visitOf.get(textOf(fields.purge));
    return visit !== undefined && fields.firstHeldAt !== undefined ? [[visit, textOf(fields.firstHeldAt)]] : [];
  });
  return new Map(held);
}

async function statusOf(base: string, token: string, event: string): Promise<EventStatus> {
  const answer = await fetch(`${base}/v1/events/${event}/status`, { headers: { authorization: `Bearer ${token}` } });
  if (answer.status === 200) return (await answer.json()) as EventStatus;
  throw new Error(`GET /v1/events/${event}/status was answered with ${answer.status}: ${await answer.text()}`);
}

/** Asks the server how the event stands, and the coordinator's computer, which has just synced, for the words. */
export async function eventNews(base: string, token: string, event: string, desk: Phone): Promise<EventNews> {
  return {
    status: await statusOf(base, token, event),
    flags: await flagNews(desk),
    conflicts: await conflictNews(desk),
    firstStable: await firstStable(desk),
  };
}
