import { fieldEvidence } from '../../../flags/evidence.ts';
import type { Contact } from '../../contact.ts';
import { dayOf } from '../../moment.ts';
import type { ServiceMoment } from '../../service-moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { UnitLine } from '../../unit-line.ts';
import type { EquipmentFacts, EquipmentFault } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

/**
 * The first use after the day on which the next check was due. A check mends the earlier ones of its type, also where it
 * says no next day; of two types the later word counts.
 */
function usedAfterDue(line: UnitLine, types: readonly string[]): { check: ServiceMoment; use: Contact } | undefined {
  const latest = types.map((one) => line.services.findLast(({ type }) => type === one));
  const check = line.services.findLast((one) => latest.includes(one) && one.record.fields.dueNext);
  const due = check?.record.fields.dueNext;
  if (!check || !due) return undefined;
  const use = line.contacts.find(({ from }) => from.ms >= check.moment.ms && dayOf(from) > due);
  return use && { check, use };
}

/** Units that were used after a check was due and not made; mended by a new check. */
export function overdueFaults(
  { index }: EquipmentFacts,
  ofUnit: (line: UnitLine) => boolean,
  types: readonly string[],
  what: string,
): readonly EquipmentFault[] {
  return [...index.lines.values()].filter(ofUnit).flatMap((line) => {
    const found = usedAfterDue(line, types);
    if (!found) return [];
    const { check, use } = found;
    const due = check.record.fields.dueNext ?? '';
    return [
      {
        subjectKind: 'unit',
        subject: line.id,
        unit: line.id,
        of: due,
        sentence: `${what} of ${unitName(line.unit, line.id)} was due on ${due}, and it was used on ${dayOf(use.from)}. Have it made, and record it.`,
        evidence: [fieldEvidence(check.record, 'dueNext'), contactEvidence(index, use)],
      },
    ];
  });
}
