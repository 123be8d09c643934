import { instantMs } from '../../science/instant-ms.ts';
import type { EventSamples } from '../samples/event-samples.ts';

/** Types that repeat, spike or split another sample, with what is expected of the two. */
const LINKED: Readonly<Record<string, string>> = {
  duplicate: 'a duplicate',
  'blind-duplicate': 'a blind duplicate',
  'matrix-spike': 'a matrix spike',
  split: 'a split',
  resample: 'a resample',
};

interface Linked {
  readonly id: string;
  readonly number: string;
  readonly type: string;
  readonly well: string | null;
  readonly suites: readonly string[];
  readonly of: string | null;
  readonly laboratory: string | null;
  readonly collected: string | null;
}

type Known = Pick<EventSamples, 'samples' | 'visits' | 'plannedSamples' | 'wells' | 'blanks'>;

function plannedLinks({ plannedSamples }: Known): Linked[] {
  return plannedSamples
    .filter(({ fields }) => fields.standing === 'planned')
    .map(({ id, fields }) => {
      const { number, type, well = null, suites, of = null, laboratory = null } = fields;
      return { id, number, type, well, suites, of, laboratory, collected: null };
    });
}

/** What a sample does not say itself, it is as planned. */
function takenLinks({ samples, visits, plannedSamples }: Known): Linked[] {
  const wells = new Map(visits.map(({ id, fields }) => [id, fields.well]));
  const planned = new Map(plannedSamples.map(({ id, fields }) => [id, fields]));
  return samples.map(({ id, fields }) => {
    const plan = fields.planned === undefined ? undefined : planned.get(fields.planned);
    const { number, suites, of = null, collected } = fields;
    const laboratory = fields.laboratory ?? plan?.laboratory ?? null;
    const type = fields.type ?? plan?.type ?? 'normal';
    return { id, number, type, well: wells.get(fields.visit) ?? null, suites, of, laboratory, collected };
  });
}

function faultsOf(one: Linked, first: Linked | undefined, wellName: (id: string | null) => string): string[] {
  const what = `Sample ${one.number}, ${LINKED[one.type]}`;
  if (one.of === null) return [];
  if (one.of === one.id) return [`${what}, names itself as its first sample: name the one that it is of.`];
  if (!first)
    return [`${what}, is of a sample that is not among those of the event: name its first sample, or plan that again.`];
  const faults: string[] = [];
  if (LINKED[first.type] !== undefined && one.type !== 'resample')
    faults.push(`${what}, is of ${first.number}, which is itself of another: name the first sample.`);
  if (one.well !== null && first.well !== null && one.well !== first.well)
    faults.push(
      `${what}, is of well ${wellName(one.well)}, its first sample ${first.number} of ${wellName(first.well)}: correct the well of the one or the link.`,
    );
  const more = one.suites.filter((suite) => !first.suites.includes(suite));
  if (more.length > 0)
    faults.push(`${what}, has ${more.join(', ')}, which its first sample ${first.number} has not: there is no pair.`);
  if (one.type === 'split' && one.laboratory !== null && one.laboratory === first.laboratory)
    faults.push(
      `${what}, goes to the same laboratory as its first sample ${first.number}: name that of the other party.`,
    );
  if (one.type === 'resample' && one.collected !== null && first.collected !== null)
    if (instantMs(one.collected) <= instantMs(first.collected))
      faults.push(`${what}, was taken before its first sample ${first.number}: correct the times or the link.`);
  return faults;
}

/**
 * What speaks against the links of duplicates, spikes, splits and resamples to their first sample: another well, suites
 * that the first one has not, a blank, a link to itself. In words, each with what to do.
 */
export function linkFaults(known: Known): readonly string[] {
  const names = new Map(known.wells.map(({ id, fields }) => [id, fields.name]));
  const blanks = new Map(known.blanks.map(({ id, fields }) => [id, fields.number]));
  return [plannedLinks(known), takenLinks(known)].flatMap((list) => {
    const byId = new Map(list.map((one) => [one.id, one]));
    const linked = list.filter(({ type }) => LINKED[type] !== undefined);
    return linked.flatMap((one) => {
      const blank = one.of === null ? undefined : blanks.get(one.of);
      if (blank !== undefined)
        return [`Sample ${one.number}, ${LINKED[one.type]}, is of the blank ${blank}: name a sample of a well.`];
      return faultsOf(one, one.of === null ? undefined : byId.get(one.of), (id) => names.get(id ?? '') ?? '?');
    });
  });
}
