import type { ChemistryFinding } from '../../chemistry/chemistry-finding.ts';
import type { ChemistryReading } from '../../chemistry/chemistry-reading.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import type { Method } from '../flag-rule.ts';
import type { Evidence, Finding } from '../raised-flag.ts';
import { chemistryOf } from './purge-chemistry.ts';

type PurgeBundle = VisitBundle['purges'][number];
type Field = keyof PurgeBundle['readings'][number]['fields'] & string;

/** Where a meter stands in a closed cell. A well that flows is read in the open, and a gauged one not at all. */
export const IN_A_CELL: readonly Method[] = ['low-flow', 'volume', 'dry-well'];

/** So many readings in a row are no bubble that passed, and no sensor on its way: about a quarter of an hour. */
const STANDING_READINGS = 3;

/** Which findings of the chemistry a rule raises. */
export interface ChemistryAsk {
  readonly code: string;
  /** The fields that a finding rests on. */
  readonly fields: (finding: ChemistryFinding) => readonly Field[];
  /** Whether a finding is worth a flag; every one where not given. */
  readonly counts?: (finding: ChemistryFinding, readings: readonly ChemistryReading[], purge: PurgeBundle) => boolean;
}

/** Whether the latest readings that tell of it were all found: what passed is nothing to mend. */
export function stands(tells: (reading: ChemistryReading) => boolean) {
  return ({ readings: found }: ChemistryFinding, readings: readonly ChemistryReading[]): boolean => {
    const latest = readings.filter(tells).slice(-STANDING_READINGS);
    return latest.length === STANDING_READINGS && latest.every(({ id }) => found.includes(id));
  };
}

function evidenceOf(finding: ChemistryFinding, fields: readonly Field[], { readings }: PurgeBundle): Evidence[] {
  const about = readings.filter(({ id }) => finding.readings.includes(id));
  return about.flatMap((reading) => {
    const given = fields.filter((field) => reading.fields[field] !== undefined);
    return given.map((field) => fieldEvidence(reading, field));
  });
}

function flagOf(bundle: VisitBundle, purge: PurgeBundle, ask: ChemistryAsk): Finding[] {
  const { readings, findings } = chemistryOf(bundle, purge);
  const found = findings.filter(
    (one) => one.code === ask.code && (ask.counts === undefined || ask.counts(one, readings, purge)),
  );
  if (found.length === 0) return [];
  const sentence = found.map((one) => one.sentence).join(' ');
  const evidence = found.flatMap((one) => evidenceOf(one, ask.fields(one), purge));
  return [{ subjectKind: 'purge', subject: purge.purge.id, sentence, evidence }];
}

/** One flag a purge for all findings of a code: a dead display is one cause, however many figures it shows. */
export function chemistryFlags(bundle: VisitBundle, ask: ChemistryAsk): readonly Finding[] {
  return bundle.purges.flatMap((purge) => flagOf(bundle, purge, ask));
}
