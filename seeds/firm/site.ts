import type { Entry, IdOf } from './entry.ts';

export const SITE = 'Former Osterlin varnish works';
export const NEST = 'Nest 4';
/** A zone of the tz database; the site itself exists nowhere. */
export const ZONE = 'America/Chicago';

export function siteEntries(id: IdOf): Entry[] {
  const site = id('site', SITE);
  const accessNotes =
    'Gate 2, key from the guard. No signal beyond the tank yard; the gate and the rise at Nest 4 have one. Fork lifts cross at the loading dock. The site safety plan decides.';
  return [
    { kind: 'site', id: site, set: { name: SITE, timeZone: ZONE, accessNotes } },
    { kind: 'nest', id: id('nest', NEST), set: { site, name: NEST } },
  ];
}
