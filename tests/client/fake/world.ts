import type { FieldClient } from '../../../src/client/client.ts';
import { FakeServer } from './server.ts';

export function uuid(name: number): string {
  return `00000000-0000-7000-8000-${name.toString(16).padStart(12, '0')}`;
}

export const EPOCH = uuid(0xe1);
export const EPOCH_2 = uuid(0xe2);
export const MEMBER = uuid(0xa1);
export const PARTNER = uuid(0xa2);
export const CREW = uuid(0xb1);
export const SITE = uuid(0xc1);
export const WELL = uuid(0xd1);
export const DEEP_WELL = uuid(0xd2);
export const EVENT = uuid(0xf1);
export const EVENT_2 = uuid(0xf2);
export const EVENT_FEED = `event:${EVENT}`;
export const EVENT_2_FEED = `event:${EVENT_2}`;
export const FEEDS = ['firm', `site:${SITE}`, EVENT_FEED];

const EVENT_FIELDS = { site: SITE, name: 'Spring round', starts: '2026-05-04', ends: '2026-05-08', standing: 'open' };

/** A firm with a crew, a site with two wells, and an event. */
export function firmServer(): FakeServer {
  const server = new FakeServer(EPOCH);
  server.feeds = () => FEEDS;
  server.write('firm', 'member', MEMBER, { name: 'First member', initials: 'FM', standing: 'active' });
  server.write('firm', 'member', PARTNER, { name: 'Second member', initials: 'SM', standing: 'active' });
  server.write('firm', 'crew', CREW, { name: 'Crew 1' });
  server.write(`site:${SITE}`, 'site', SITE, { name: 'North field', timeZone: 'America/Chicago' });
  for (const [id, name] of [
    [WELL, 'N-1S'],
    [DEEP_WELL, 'N-1D'],
  ] as const) {
    const fields = { site: SITE, name, standing: 'in-service', depthsFrom: 'measuring-point' };
    server.write(`site:${SITE}`, 'well', id, fields);
  }
  server.write(EVENT_FEED, 'event', EVENT, { ...EVENT_FIELDS, plan: { criteria: 'set-1' } });
  return server;
}

export async function recordVisit(phone: FieldClient, event = EVENT): Promise<string> {
  const arrived = '2026-05-04T10:00:00-05:00';
  return (await phone.record('visit', { event, well: WELL, crew: CREW, method: 'low-flow', arrived })).id;
}

export async function recordPurge(phone: FieldClient): Promise<string> {
  const visit = await recordVisit(phone);
  return (await phone.record('purge', { visit, began: '2026-05-04T10:05:00-05:00' })).id;
}

export async function recordReading(phone: FieldClient, purge: string, ph: string) {
  return phone.record('reading', { purge, ph, observed: await phone.observed() });
}
