import { instantMs } from '../../science/instant-ms.ts';
import { type KitNeed, kitNeeds } from './kit-needs.ts';
import type { KitCheck, KitRecords } from './kit-records.ts';

type Item = KitCheck['fields']['items'][number];
export type KitItemStanding = Item['standing'] | 'not-looked-at';

/** What is needed, or was looked at, and how it stands. */
export interface KitLine {
  readonly item: string;
  readonly expected: number | null;
  readonly why: string | null;
  readonly source: string | null;
  readonly standing: KitItemStanding;
  readonly found: number | null;
  readonly lot: string | null;
  readonly expires: string | null;
  readonly remark: string | null;
}

export interface KitStanding {
  readonly check: KitCheck | null;
  readonly lines: readonly KitLine[];
}

/** The last check of the crew on that day: an earlier one was gone through again. */
export function lastCheck({ checks, day }: Pick<KitRecords, 'checks' | 'day'>): KitCheck | null {
  const ofDay = checks.filter(({ fields }) => fields.observed.at.slice(0, 10) === day);
  const order = ({ fields }: KitCheck) => instantMs(fields.observed.at);
  return ofDay.toSorted((a, b) => order(a) - order(b) || (a.id < b.id ? -1 : 1)).at(-1) ?? null;
}

/** What was written counts, unless the date of the bottle or the count says worse. */
function standingOf({ standing, expected, found, expires }: Item, day: string): Item['standing'] {
  if (standing === 'ok' && expires && expires < day) return 'expired';
  if (standing === 'ok' && expected != null && found != null && found < expected)
    return found === 0 ? 'missing' : 'short';
  return standing;
}

function lineOf(need: KitNeed | null, item: Item, day: string): KitLine {
  const expected = item.expected ?? need?.expected ?? null;
  return {
    item: item.item,
    expected,
    why: need?.why ?? null,
    source: need?.source ?? null,
    standing: standingOf({ ...item, expected }, day),
    found: item.found ?? null,
    lot: item.lot ?? null,
    expires: item.expires ?? null,
    remark: item.remark ?? null,
  };
}

/** What a check says by itself, whatever else the day needs. */
export function linesOfCheck(check: KitCheck): readonly KitLine[] {
  return check.fields.items.map((item) => lineOf(null, item, check.fields.observed.at.slice(0, 10)));
}

function notLookedAt({ item, expected, why, source }: KitNeed): KitLine {
  const nothing = { found: null, lot: null, expires: null, remark: null };
  return { item, expected, why, source, standing: 'not-looked-at', ...nothing };
}

/** What a crew needs for the day beside what it found; what it looked at beyond that comes last. */
export function kitStanding(records: KitRecords): KitStanding {
  const check = lastCheck(records);
  const items = check?.fields.items ?? [];
  const needs = kitNeeds(records);
  const needOf = new Map(items.map((item) => [item, needs.find(({ words }) => words.test(item.item)) ?? null]));
  const seen = needs.flatMap((need) => {
    const its = items.filter((item) => needOf.get(item) === need).map((item) => lineOf(need, item, records.day));
    return its.length > 0 ? its : [notLookedAt(need)];
  });
  const others = items.filter((item) => needOf.get(item) === null).map((item) => lineOf(null, item, records.day));
  return { check, lines: [...seen, ...others] };
}
