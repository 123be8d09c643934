import type { PartType } from '../../protocol/kinds/part.ts';
import type { HowUsed } from '../../protocol/kinds/unit-use.ts';
import { type BlankStanding, wholeStanding } from './blank-standing.ts';
import type { EquipmentIndex } from './equipment-index.ts';
import type { ServiceRecord } from './equipment-records.ts';
import { compareMoments, type Moment, momentOf } from './moment.ts';
import type { PartStay } from './part-stay.ts';
import type { UnitLine } from './unit-line.ts';

/** A stretch or a moment in the life of a unit; times as entered, `until` null while it goes on. */
export type TimelineEntry = {
  readonly from: string;
  readonly until: string | null;
  /** The record that it begins with. */
  readonly record: string;
} & (
  | { readonly what: 'contact'; readonly visit: string; readonly well: string; readonly how: HowUsed }
  | { readonly what: 'decon'; readonly protocol: string; readonly isClean: boolean; readonly sentence: string }
  | {
      readonly what: 'part';
      readonly part: string;
      readonly type: PartType | null;
      readonly lot: string | null;
      readonly endedBy: PartStay['endedBy'];
    }
  | {
      readonly what: 'service';
      readonly type: ServiceRecord['fields']['type'];
      readonly result: 'pass' | 'fail' | null;
    }
  | { readonly what: 'blank'; readonly number: string; readonly standing: BlankStanding }
  | { readonly what: 'sign-out'; readonly crew: string }
);

interface Placed {
  readonly moment: Moment;
  readonly entry: TimelineEntry;
}

type Says<Entry> = Entry extends TimelineEntry ? Omit<Entry, 'from' | 'until' | 'record'> : never;

function placed(moment: Moment, until: Moment | null, says: Says<TimelineEntry>): Placed {
  return { moment, entry: { from: moment.at, until: until?.at ?? null, record: moment.record, ...says } };
}

/** A decon that nobody ended is over where the unit was used or cleaned anew since. */
function brokenOffAt(began: Moment, { contacts, decons }: UnitLine): Moment | null {
  const later = [...contacts.map(({ from }) => from), ...decons.map((decon) => decon.began)];
  return later.filter(({ ms }) => ms > began.ms).toSorted(compareMoments)[0] ?? null;
}

function ofLine(line: UnitLine): readonly Placed[] {
  const { contacts, decons, services } = line;
  return [
    ...contacts.map(({ from, until, visit, well, how }) => placed(from, until, { what: 'contact', visit, well, how })),
    ...decons.map(({ began, until, record, standing }) =>
      placed(began, record.fields.ended ? until : brokenOffAt(began, line), {
        what: 'decon',
        protocol: record.fields.protocol,
        isClean: standing.isClean,
        sentence: standing.sentence,
      }),
    ),
    ...services.map(({ moment, type, record }) =>
      placed(moment, moment, { what: 'service', type, result: record.fields.result ?? null }),
    ),
  ];
}

function ofParts(index: EquipmentIndex, unit: string): readonly Placed[] {
  return (index.staysOfUnit.get(unit) ?? []).map(({ part, type, from, until, endedBy }) =>
    placed(from, until, { what: 'part', part, type, lot: index.parts.get(part)?.fields.lot ?? null, endedBy }),
  );
}

function ofBlanks(index: EquipmentIndex, unit: string): readonly Placed[] {
  return (index.blanksOfUnit.get(unit) ?? []).map(({ record, collected }) =>
    placed(collected, collected, {
      what: 'blank',
      number: record.fields.number,
      standing: wholeStanding(index.resultsOfBlank.get(record.id) ?? []),
    }),
  );
}

function ofSignOuts(index: EquipmentIndex, unit: string): readonly Placed[] {
  return (index.signOutsOfUnit.get(unit) ?? []).map((record) => {
    const { crew, from, until, observed } = record.fields;
    const end = until ? momentOf(record, until, observed) : null;
    return placed(momentOf(record, from, observed), end, { what: 'sign-out', crew });
  });
}

const WITHIN_A_MINUTE: readonly TimelineEntry['what'][] = ['service', 'sign-out', 'part', 'contact', 'decon', 'blank'];

function compare(a: Placed, b: Placed): number {
  if (a.moment.ms !== b.moment.ms) return a.moment.ms - b.moment.ms;
  const rank = WITHIN_A_MINUTE.indexOf(a.entry.what) - WITHIN_A_MINUTE.indexOf(b.entry.what);
  return rank || (a.entry.record < b.entry.record ? -1 : 1);
}

/**
 * Everything that happened to a unit in one list, by when it began: wells, decons, soft parts, services, rinsates and
 * the crews that had it. Nothing of a unit that no record names.
 */
export function unitTimeline(index: EquipmentIndex, unit: string): readonly TimelineEntry[] {
  const line = index.lines.get(unit);
  if (!line) return [];
  return [...ofLine(line), ...ofParts(index, unit), ...ofBlanks(index, unit), ...ofSignOuts(index, unit)]
    .sort(compare)
    .map(({ entry }) => entry);
}
