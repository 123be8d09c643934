import { KINDS } from '../../protocol/kinds-by-name.ts';
import { columnName, TYPED_TABLES } from '../tables.ts';

/** Records that belong to another: `where` joins `t`, the table of their kind, and `h`, their head, to `p.id`. */
export interface RecordRelation {
  /** The kind of the record that they belong to; null for any. */
  readonly of: string | null;
  readonly name: string;
  readonly kind: string;
  readonly where: string;
}

function under(of: string | null, name: string, kind: string, field: string): RecordRelation {
  return { of, name, kind, where: `t."${columnName(field)}" = p.id` };
}

/** well-claim, well-claims -> wellClaims */
function listName(plural: string): string {
  return plural.replace(/-([a-z])/g, (_, letter: string) => letter.toUpperCase());
}

/** What lives under the record that its home field names: a reading under its purge. */
const AT_HOME = KINDS.flatMap(({ name, plural, home, references }) => {
  if (home.in !== 'parent' || !(home.field in references)) return [];
  const of = (references as Readonly<Record<string, string>>)[home.field];
  return of === undefined ? [] : [under(of, listName(plural), name, home.field)];
});

const PLANNED = 'select a.well from assignment a where a.firm = $1 and a.event = p.id and not a.voided';
const VISITED = 'select v.well from visit v where v.firm = $1 and v.event = p.id and not v.voided';
const CREWS = `select a.crew from assignment a where a.firm = $1 and a.event = p.id and not a.voided
    union select v.crew from visit v where v.firm = $1 and v.event = p.id and not v.voided`;
const SAMPLES = 'select v.id from visit v where v.firm = $1 and v.event = p.id';
const EVENT_FEED = `h.feed = 'event:' || p.id::text`;

/** The other ways in which records belong together; each has an index, or begins at few records. */
const OTHERS: readonly RecordRelation[] = [
  under('site', 'events', 'event', 'site'),
  under('nest', 'wells', 'well', 'nest'),
  under('well', 'visits', 'visit', 'well'),
  under('crew', 'assignments', 'assignment', 'crew'),
  under('crew', 'devices', 'device', 'crew'),
  under('unit', 'signOuts', 'sign-out', 'unit'),
  under('unit', 'unitUses', 'unit-use', 'unit'),
  under('unit', 'blanks', 'blank', 'unit'),
  under('part', 'partChanges', 'part-change', 'part'),
  under('part', 'deconSteps', 'decon-step', 'part'),
  under('well', 'parts', 'part', 'dedicatedTo'),
  under('decon', 'blanks', 'blank', 'decon'),
  under('event', 'decons', 'decon', 'event'),
  under('sample', 'laboratoryResults', 'laboratory-result', 'sample'),
  under('blank', 'laboratoryResults', 'laboratory-result', 'blank'),
  under('sample', 'samples', 'sample', 'of'),
  under('sample', 'containers', 'container', 'sample'),
  under('blank', 'containers', 'container', 'blank'),
  under('planned-sample', 'plannedSamples', 'planned-sample', 'of'),
  under('planned-sample', 'samples', 'sample', 'planned'),
  under('planned-sample', 'blanks', 'blank', 'planned'),
  under('planned-sample', 'containers', 'container', 'planned'),
  under('well', 'plannedSamples', 'planned-sample', 'well'),
  under('visit', 'fills', 'fill', 'visit'),
  under('cooler', 'containers', 'container', 'cooler'),
  under('cooler', 'sampleReceipts', 'sample-receipt', 'cooler'),
  under('cooler', 'discrepancies', 'discrepancy', 'cooler'),
  under('sample', 'discrepancies', 'discrepancy', 'sample'),
  under('container', 'discrepancies', 'discrepancy', 'container'),
  under('conflict', 'resolutions', 'resolution', 'conflict'),
  under(null, 'flags', 'flag', 'subject'),
  under(null, 'conflicts', 'conflict', 'subject'),
  { of: 'event', name: 'wells', kind: 'well', where: `t.id in (${PLANNED} union ${VISITED})` },
  { of: 'event', name: 'crews', kind: 'crew', where: `t.id in (${CREWS})` },
  { of: 'event', name: 'samples', kind: 'sample', where: `t.visit in (${SAMPLES})` },
  { of: 'visit', name: 'allFlags', kind: 'flag', where: 'h.visit = p.id' },
  { of: 'visit', name: 'allConflicts', kind: 'conflict', where: 'h.visit = p.id' },
  { of: 'event', name: 'allFlags', kind: 'flag', where: EVENT_FEED },
  { of: 'event', name: 'allConflicts', kind: 'conflict', where: EVENT_FEED },
];

export const RELATIONS: readonly RecordRelation[] = [...AT_HOME, ...OTHERS].filter(({ kind }) => kind in TYPED_TABLES);

/** @throws Error where no such relation exists, which only a fault of ours can bring about */
export function relation(of: string | null, name: string): RecordRelation {
  const found = RELATIONS.find((one) => one.of === of && one.name === name);
  if (!found) throw new Error(`${of ?? 'a record'} has no relation ${name}`);
  return found;
}
