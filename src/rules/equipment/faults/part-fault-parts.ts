import { fieldEvidence } from '../../flags/evidence.ts';
import { carrierName } from '../carrier.ts';
import { wellName } from '../equipment-index.ts';
import type { EquipmentFacts, EquipmentFault } from './equipment-rule.ts';
import { contactEvidence } from './fault-parts.ts';
import { type PartCause, type PartFault, partFaults } from './part-use.ts';

/** A fault for every soft part of this cause, once a part and visit. */
export function faultsOfParts(
  facts: EquipmentFacts,
  cause: PartCause,
  sentence: (fault: PartFault, part: string, well: string, other: string) => string,
): readonly EquipmentFault[] {
  const { index } = facts;
  return partFaults(facts)
    .filter((fault) => fault.cause === cause)
    .map((fault) => {
      const { part, contact, otherWell, change } = fault;
      const name = carrierName(index, { kind: 'part', id: part });
      return {
        subjectKind: 'visit',
        subject: contact.visit,
        visit: contact.visit,
        unit: contact.unit,
        of: part,
        sentence: sentence(fault, name, wellName(index, contact.well), wellName(index, otherWell ?? '')),
        evidence: [contactEvidence(index, contact), ...(change ? [fieldEvidence(change, 'action')] : [])],
      };
    });
}
