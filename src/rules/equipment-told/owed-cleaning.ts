import { type DeconEffort, deconEffort } from '../decon/effort.ts';
import { gearOfUnit } from '../decon/gear-of-unit.ts';
import type { Contact } from '../equipment/contact.ts';
import { type EquipmentIndex, wellName } from '../equipment/equipment-index.ts';
import { contactEvidence } from '../equipment/faults/fault-parts.ts';
import type { EquipmentFinding } from '../equipment/faults.ts';
import { dayOf } from '../equipment/moment.ts';
import { isDownholePump, unitName } from '../equipment/unit-kind.ts';

export type OwedFinding = Omit<EquipmentFinding, 'certainty' | 'source' | 'verified'>;

const TO_DO: Readonly<Record<Exclude<DeconEffort, 'none' | 'replace'>, string>> = {
  'wipe-down': 'Wipe it down, and record it.',
  rinse: 'Wipe and rinse it, and record it.',
  full: 'Clean it before it is put away, and before its next well.',
  'after-product': 'It met product: clean it before anything else is done with it.',
};

/** The last well of a unit that was used there and not cleaned since. */
function lastUse(index: EquipmentIndex, unit: string): Contact | null {
  const span = index.lines.get(unit)?.life.spans.at(-1);
  return span?.state === 'used' && span.cause.by === 'contact' ? span.cause.contact : null;
}

/**
 * Tapes, meters, flow cells and hand gear that were used and not cleaned, by what each kind needs. No flag is raised about
 * them, as it is of a pump: nobody is to be asked at each of ten wells whether a tape was wiped.
 */
export function owedCleaning(index: EquipmentIndex, units: readonly string[], day: string): readonly OwedFinding[] {
  return units.flatMap((id): readonly OwedFinding[] => {
    const unit = index.lines.get(id)?.unit;
    const contact = lastUse(index, id);
    if (!unit || !contact || isDownholePump(unit) || gearOfUnit(unit.fields.type) === null) return [];
    if (dayOf(contact.from) > day) return [];
    const { effort } = deconEffort(unit.fields, [], { well: contact.well }, {});
    if (effort === 'none' || effort === 'replace') return [];
    const sentence = `${unitName(unit, id)} was used at ${wellName(index, contact.well)} and no complete decon is recorded since. ${TO_DO[effort]}`;
    return [
      {
        code: 'unit-left-uncleaned',
        severity: 'note',
        addressee: 'tonight',
        subjectKind: 'unit',
        subject: id,
        unit: id,
        of: contact.visit,
        visit: contact.visit,
        sentence,
        evidence: [contactEvidence(index, contact)],
      },
    ];
  });
}
