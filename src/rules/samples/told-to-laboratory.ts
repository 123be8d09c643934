import { sha256 } from '@noble/hashes/sha2.js';
import { utf8ToBytes } from '@noble/hashes/utils.js';
import { instantMs } from '../../science/instant-ms.ts';
import { dayOf } from '../custody/clocks.ts';
import { byIdIn } from './by-id.ts';
import type { EventSamples } from './event-samples.ts';
import { type LinksKnown, plannedLinks } from './planned-links.ts';

export type ToldSample = EventSamples['samples'][number];
export type ToldBlank = EventSamples['blanks'][number];
export type ToldPlanned = EventSamples['plannedSamples'][number];

/** What bottles are of: water of a well, clean water, or what is planned and not taken yet. */
export type ToldOf = ToldSample | ToldBlank | ToldPlanned;

/** What of an event says how its bottles are told; the same answer for each of them needs all of these lists. */
export type ToldWorld = Pick<
  EventSamples,
  'samples' | 'blanks' | 'plannedSamples' | 'containers' | 'visits' | 'wells' | 'event' | 'site'
>;
type Known = LinksKnown & Pick<ToldWorld, 'site'>;

const BLIND = 'blind-duplicate';
const MINUTE_MS = 60_000;
/** Grids on which people write times: whole seconds, then 1, 5, 10, 15 minutes. The coarsest that fits is kept to. */
const GRIDS_MS = [15 * MINUTE_MS, 10 * MINUTE_MS, 5 * MINUTE_MS, MINUTE_MS, 1_000, 1];
/** A time that is made up lies up to so many minutes before the first of its cooler. Own choice, no source. */
const LONGEST_JITTER_MS = 45 * MINUTE_MS;
const LEAST_STEPS = 4;

/** The planned sample that it is: the plan counts and labels it as that one, and so it is told. */
export function planOf(of: ToldOf, known: LinksKnown): ToldPlanned | undefined {
  if (of.kind === 'planned-sample') return of as ToldPlanned;
  const { planned } = (of as ToldSample | ToldBlank).fields;
  return byIdIn(known.plannedSamples, planned) ?? byIdIn(known.plannedSamples, plannedLinks(known).get(of.id));
}

/** Whether the laboratory is not to know what it repeats; a sample without a type is what it was planned as. */
export function isBlind(of: ToldOf, known: LinksKnown): boolean {
  if (of.kind === 'blank') return false;
  return (of.fields.type ?? planOf(of, known)?.fields.type) === BLIND;
}

/** The number that a laboratory is told, and that stands on labels. */
export function toldNumber(of: ToldOf, known: LinksKnown): string {
  return of.fields.laboratoryNumber ?? planOf(of, known)?.fields.laboratoryNumber ?? of.fields.number;
}

type Containers = Known['containers'];
const packings = new WeakMap<Containers, ReadonlyMap<string, ReadonlySet<string>>>();

/** The coolers of each sample; gone through once, since rounds have thousands of bottles. */
function packingOf(containers: Containers): ReadonlyMap<string, ReadonlySet<string>> {
  const before = packings.get(containers);
  if (before) return before;
  const packing = new Map<string, Set<string>>();
  for (const { fields } of containers) {
    if (!fields.sample || !fields.cooler) continue;
    const its = packing.get(fields.sample);
    if (its) its.add(fields.cooler);
    else packing.set(fields.sample, new Set([fields.cooler]));
  }
  packings.set(containers, packing);
  return packing;
}

const NOWHERE: ReadonlySet<string> = new Set();

/** The coolers that bottles of a sample are packed in. */
function coolersOf(sample: ToldSample, { containers }: Pick<Known, 'containers'>): ReadonlySet<string> {
  return packingOf(containers).get(sample.id) ?? NOWHERE;
}

/** Samples with a bottle in one of these coolers. */
function inCoolers(coolers: ReadonlySet<string>, { samples, containers }: Known): readonly ToldSample[] {
  const packing = packingOf(containers);
  return samples.filter(({ id }) => [...(packing.get(id) ?? NOWHERE)].some((cooler) => coolers.has(cooler)));
}

function gridOf(times: readonly number[]): number {
  return GRIDS_MS.find((grid) => times.every((ms) => ms % grid === 0)) ?? 1;
}

/** An instant in the way that another one is written: with its offset, with as many digits of a second. */
function writtenLike(like: string, ms: number): string {
  const zone = /(?:Z|[+-]\d\d:\d\d)$/i.exec(like)?.[0] ?? 'Z';
  const zoneMs = zone.length === 1 ? 0 : Number(`${zone[0]}1`) * clockMs(zone.slice(1));
  const iso = new Date(ms + zoneMs).toISOString();
  const digits = /\.(\d{1,3})/.exec(like)?.[1]?.length ?? 0;
  return `${iso.slice(0, 19)}${digits > 0 || ms % 1_000 !== 0 ? iso.slice(19, 20 + Math.max(digits, 3)) : ''}${zone}`;
}

function clockMs(clock: string): number {
  const [hours = '0', minutes = '0'] = clock.split(':');
  return (Number(hours) * 60 + Number(minutes)) * MINUTE_MS;
}

/** 1 to `most`, the same for the same ids whoever asks; a laboratory never sees those ids. */
function drawn(ids: readonly string[], most: number): number {
  const [a = 0, b = 0, c = 0, d = 0] = sha256(utf8ToBytes(ids.join('\n')));
  return 1 + ((((a << 24) | (b << 16) | (c << 8) | d) >>> 0) % most);
}

type Days = ReadonlyMap<ToldSample, string>;
const daysOf = new WeakMap<Known['samples'], { readonly site: Known['site']; readonly days: Days }>();

/** The day of each sample at the site, whatever the offset it was written with; once, as with the coolers. */
function daysAtSite({ samples, site }: Pick<Known, 'samples' | 'site'>): Days {
  const before = daysOf.get(samples);
  if (before !== undefined && before.site === site) return before.days;
  const timeZone = site?.fields.timeZone ?? null;
  const days = new Map(samples.map((one) => [one, dayOf(one.fields.collected, timeZone)]));
  daysOf.set(samples, { site, days });
  return days;
}

/** All that a crew takes on a day. */
function ofCrewThatDay(sample: ToldSample, { samples, visits, site }: Pick<Known, 'samples' | 'visits' | 'site'>) {
  const days = daysAtSite({ samples, site });
  const crewOf = ({ fields }: ToldSample) => byIdIn(visits, fields.visit)?.fields.crew;
  const [crew, day] = [crewOf(sample), dayOf(sample.fields.collected, site?.fields.timeZone ?? null)];
  return samples.filter((one) => days.get(one) === day && crewOf(one) === crew);
}

/**
 * A time for what the laboratory is not to pair with another: before the first sample of its cooler and of the day of its
 * crew, so that it says nothing of its parent, and before its own collection, so that no clock of the laboratory runs late.
 * By the cooler alone it would be its own time that counts wherever it is the first in there, minutes after that of its
 * parent in another; by the day of all crews it would change as the phones of others come to a signal.
 */
function madeTime(sample: ToldSample, known: Known): string | null {
  const coolers = coolersOf(sample, known);
  if (coolers.size === 0) return null;
  const others = [...inCoolers(coolers, known), ...ofCrewThatDay(sample, known)];
  const times = others.map(({ fields }) => instantMs(fields.collected));
  const first = Math.min(...times);
  const like = others.find(({ fields }) => instantMs(fields.collected) === first)?.fields.collected;
  if (like === undefined) return null;
  // by the others: a time with seconds among times without would stand out
  const plain = others.filter((one) => !isBlind(one, known)).map(({ fields }) => instantMs(fields.collected));
  const grid = gridOf(plain.length > 0 ? plain : times);
  const steps = Math.max(LEAST_STEPS, Math.floor(LONGEST_JITTER_MS / grid));
  return writtenLike(
    like,
    Math.floor(first / grid) * grid - drawn([sample.id, ...[...coolers].toSorted()], steps) * grid,
  );
}

/**
 * The time that a laboratory is told, as an instant. Null where there is none yet: of what is not taken, and of a blind
 * duplicate without one of its own before it is packed; its label has room for a pen.
 */
export function toldTime(of: ToldOf, known: Known): string | null {
  if (of.kind === 'blank') return (of as ToldBlank).fields.collected;
  const { laboratoryTime } = (of as ToldSample | ToldPlanned).fields;
  const told = laboratoryTime ?? planOf(of, known)?.fields.laboratoryTime ?? null;
  if (told !== null || of.kind === 'planned-sample') return told;
  const sample = of as ToldSample;
  return isBlind(sample, known) ? madeTime(sample, known) : sample.fields.collected;
}

const withBlind = new WeakMap<ReturnType<typeof plannedLinks>, boolean>();

/** Whether the event has a blind duplicate, taken or planned, whatever became of it. */
function hasBlind(known: LinksKnown): boolean {
  const links = plannedLinks(known);
  const before = withBlind.get(links);
  if (before !== undefined) return before;
  const has = [...known.samples, ...known.plannedSamples].some((one) => isBlind(one, known));
  withBlind.set(links, has);
  return has;
}

function wellOf(of: ToldSample | ToldPlanned, { visits, wells }: Pick<ToldWorld, 'visits' | 'wells'>) {
  const ofVisit = of.kind === 'sample' ? byIdIn(visits, (of as ToldSample).fields.visit)?.fields.well : undefined;
  return byIdIn(wells, ofVisit ?? (of as ToldPlanned).fields.well)?.fields.name;
}

const BLANK_PLACES: Readonly<Record<string, string>> = {
  equipment: 'equipment blank',
  'equipment-blank': 'equipment blank',
  field: 'field blank',
  'field-blank': 'field blank',
  trip: 'trip blank',
  'trip-blank': 'trip blank',
  temperature: 'temperature blank',
  'temperature-blank': 'temperature blank',
};

/** Of a blank, which one it is; a laboratory has to know. Null for water of a well. */
export function toldBlank(of: ToldOf): string | null {
  return BLANK_PLACES[of.fields.type ?? ''] ?? null;
}

/**
 * The sampling point that a laboratory is told. With a blind duplicate in the event no sample names its well: the point is
 * then told by the number of the sample, since a point without a well among points with one would stand out, and one with
 * its well would name its parent.
 */
export function toldPlace(of: ToldOf, world: ToldWorld): string {
  const blank = toldBlank(of);
  if (blank !== null || of.kind === 'blank') return blank ?? 'blank';
  const well = hasBlind(world) ? undefined : wellOf(of as ToldSample | ToldPlanned, world);
  return well ?? toldNumber(of, world);
}

/** The kind of sample: water of a well, or water that a blank was made of. */
export function toldMatrix(of: ToldOf): string {
  return toldBlank(of) === null ? 'groundwater' : 'blank water';
}

/** Whether a laboratory is to spike it; its bottles are more for that. */
export function isForMatrixSpike(of: ToldOf, known: LinksKnown): boolean {
  return of.kind !== 'blank' && (of.fields.type ?? planOf(of, known)?.fields.type) === 'matrix-spike';
}
