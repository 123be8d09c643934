import { z } from 'zod';
import { PART_TYPES } from '../../protocol/kinds/part.ts';
import { SERVICE_TYPES } from '../../protocol/kinds/unit-service.ts';
import { USES } from '../../protocol/kinds/unit-use.ts';
import { id } from '../../protocol/primitives.ts';
import type { EquipmentIndex } from '../equipment/equipment-index.ts';
import { type TimelineEntry, unitTimeline } from '../equipment/unit-timeline.ts';
import type { Sight } from './sight.ts';
import { asEntered, BLANK_STANDINGS, maybeEntered, maybeRecordId, PART_ENDS } from './told-fields.ts';
import type { ToldNames } from './told-names.ts';

export const TIMELINE_ENTRIES = ['contact', 'decon', 'part', 'service', 'blank', 'sign-out'] as const;

/** A stretch or a moment in the life of a unit. What does not belong to its sort is null. */
export const timelineEntryOutput = z.strictObject({
  what: z.enum(TIMELINE_ENTRIES),
  from: asEntered,
  until: maybeEntered.describe('Null while it goes on'),
  record: id.describe('That it begins with'),
  sentence: z.string().describe('All of it in words'),
  visit: maybeRecordId('visit'),
  well: maybeRecordId('well'),
  how: z.enum(USES).nullable(),
  protocol: z.string().nullable(),
  isClean: z.boolean().nullable().describe('Whether it is clean by this decon'),
  part: maybeRecordId('part'),
  partType: z.enum(PART_TYPES).nullable(),
  lot: z.string().nullable(),
  endedBy: z.enum(PART_ENDS).nullable(),
  service: z.enum(SERVICE_TYPES).nullable(),
  result: z.enum(['pass', 'fail']).nullable(),
  blank: maybeRecordId('blank'),
  number: z.string().nullable().describe('Of the blank'),
  standing: z.enum(BLANK_STANDINGS).nullable().describe('Of the blank'),
  crew: maybeRecordId('crew'),
});
export type TimelineEntryTold = z.output<typeof timelineEntryOutput>;

const NOTHING = {
  visit: null,
  well: null,
  how: null,
  protocol: null,
  isClean: null,
  part: null,
  partType: null,
  lot: null,
  endedBy: null,
  service: null,
  result: null,
  blank: null,
  number: null,
  standing: null,
  crew: null,
} as const;

const words = (name: string) => name.replaceAll('-', ' ');

function own(entry: TimelineEntry, names: ToldNames): Partial<TimelineEntryTold> & { readonly sentence: string } {
  switch (entry.what) {
    case 'contact': {
      const { visit, well, how } = entry;
      return { visit, well, how, sentence: `${words(how)} at ${names.well(well)}` };
    }
    case 'decon': {
      const { protocol, isClean, sentence } = entry;
      return { protocol, isClean, sentence: `${words(protocol)}. ${sentence}` };
    }
    case 'part': {
      const { part, type, lot, endedBy } = entry;
      const named = names.part(part);
      return { part, partType: type, lot, endedBy, sentence: `${words(type ?? 'part')} ${named ?? part}` };
    }
    case 'service': {
      const { type, result } = entry;
      return { service: type, result, sentence: result ? `${words(type)}: ${result}` : words(type) };
    }
    case 'blank': {
      const { number, standing, record } = entry;
      return { blank: record, number, standing, sentence: `Equipment blank ${number}: ${words(standing)}` };
    }
    case 'sign-out':
      return { crew: entry.crew, sentence: `Signed out to ${names.crew(entry.crew) ?? entry.crew}` };
  }
}

/** The event that an entry lies in; undefined for what belongs to the firm. */
function eventOf(index: EquipmentIndex, entry: TimelineEntry): string | null | undefined {
  if (entry.what === 'contact') return index.visits.get(entry.visit)?.event;
  return entry.what === 'blank' ? index.rinsates.get(entry.record)?.record.fields.event : undefined;
}

function isSeen(index: EquipmentIndex, entry: TimelineEntry, sight: Sight): boolean {
  return (entry.what !== 'contact' && entry.what !== 'blank') || sight.sees(eventOf(index, entry));
}

export interface SeenEntries {
  readonly entries: readonly TimelineEntry[];
  readonly outOfSight: number;
}

/** What happened to a unit, earliest first, as far as the reader may be told. */
export function seenEntries(index: EquipmentIndex, unit: string, sight: Sight): SeenEntries {
  const all = unitTimeline(index, unit);
  const entries = all.filter((entry) => isSeen(index, entry, sight));
  return { entries, outOfSight: all.length - entries.length };
}

export function timelineEntryTold(entry: TimelineEntry, names: ToldNames): TimelineEntryTold {
  const { what, from, until, record } = entry;
  return { ...NOTHING, what, from, until, record, ...own(entry, names) };
}
