import type { EventSamples } from './event-samples.ts';

export type LinksKnown = Pick<EventSamples, 'samples' | 'blanks' | 'containers' | 'visits' | 'plannedSamples'>;
type Links = ReadonlyMap<string, string>;

/** Planned samples by well and number, and planned blanks by type and number. */
function byNumber({ samples, blanks, visits, plannedSamples }: LinksKnown): Map<string, string> {
  const wells = new Map(visits.map(({ id, fields }) => [id, fields.well]));
  const ofWells = new Map(plannedSamples.map(({ id, fields }) => [`${fields.well} ${fields.number}`, id]));
  const ofBlanks = new Map(plannedSamples.map(({ id, fields }) => [`${fields.type} ${fields.number}`, id]));
  const found = new Map<string, string>();
  for (const { id, fields } of samples) {
    const numbered = ofWells.get(`${wells.get(fields.visit)} ${fields.number}`);
    if (numbered !== undefined) found.set(id, numbered);
  }
  for (const { id, fields } of blanks) {
    const numbered = ofBlanks.get(`${fields.type}-blank ${fields.number}`);
    if (numbered !== undefined) found.set(id, numbered);
  }
  return found;
}

/** Of each sample and blank, the planned ones that its bottles are labelled for, each as often as it has some. */
function byBottles({ containers, plannedSamples }: LinksKnown): Map<string, Map<string, number>> {
  const living = new Set(plannedSamples.map(({ id }) => id));
  const found = new Map<string, Map<string, number>>();
  for (const { fields } of containers) {
    const holder = fields.sample ?? fields.blank;
    if (holder === undefined || fields.planned === undefined || !living.has(fields.planned)) continue;
    const its = found.get(holder) ?? new Map<string, number>();
    found.set(holder, its.set(fields.planned, (its.get(fields.planned) ?? 0) + 1));
  }
  return found;
}

/** That of most bottles: one out of the bag of another sample makes it no other. Of as many, that of its number. */
function ofMost(bottles: ReadonlyMap<string, number>, numbered: string | undefined): string | undefined {
  const place = (id: string) => (id === numbered ? 0 : 1);
  return [...bottles]
    .toSorted(([a, many], [b, more]) => more - many || place(a) - place(b) || (a < b ? -1 : 1))
    .map(([id]) => id)[0];
}

function linksOf(known: LinksKnown): Links {
  const found = byNumber(known);
  for (const [holder, bottles] of byBottles(known)) {
    const most = ofMost(bottles, found.get(holder));
    if (most !== undefined) found.set(holder, most);
  }
  const living = new Set(known.plannedSamples.map(({ id }) => id));
  for (const { id, fields } of [...known.samples, ...known.blanks])
    if (fields.planned !== undefined && living.has(fields.planned)) found.set(id, fields.planned);
  return found;
}

const before = new WeakMap<LinksKnown['samples'], { readonly of: LinksKnown; readonly links: Links }>();
const LISTS = ['blanks', 'containers', 'visits', 'plannedSamples'] as const;

/**
 * Of each sample and blank the planned one that it is: which it names, or its bottles, or which has its number at its well.
 * Gone through once for lists that do not change.
 */
export function plannedLinks(known: LinksKnown): Links {
  const same = before.get(known.samples);
  if (same && LISTS.every((list) => same.of[list] === known[list])) return same.links;
  const links = linksOf(known);
  before.set(known.samples, { of: known, links });
  return links;
}
