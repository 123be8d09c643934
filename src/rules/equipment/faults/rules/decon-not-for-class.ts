import { classWritten } from '../../../decon/classes-of-suites.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { wellName } from '../../equipment-index.ts';
import { cleanedBy, openClassesAt } from '../../open-classes.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence, entryName } from '../fault-parts.ts';
import type { WellEntry } from '../well-entry.ts';

function faultOf({ index }: EquipmentFacts, entry: WellEntry): readonly EquipmentFault[] {
  const { line, contact, cause } = entry;
  const open = cause === null ? openClassesAt(index, line, contact) : null;
  if (open === null) return [];
  const { before, left, decons } = open;
  const classes = listText(open.classes.map(classWritten));
  return [
    {
      subjectKind: 'visit',
      subject: contact.visit,
      visit: contact.visit,
      unit: line.id,
      of: line.id,
      // a tape is wiped at the truck: it does not stop the crew at the well
      ...(line.unit?.fields.type === 'water-level-tape' ? { addressee: 'tonight' as const } : {}),
      sentence: `${entryName(entry)} came out of ${wellName(index, before.well)}, which holds ${classes}, was cleaned by ${cleanedBy(open)} and went into ${wellName(index, contact.well)}: that does not serve against ${classes}. Clean it by a protocol that does, and take an equipment blank through it.`,
      evidence: [
        contactEvidence(index, contact),
        contactEvidence(index, before),
        fieldEvidence(left, 'contaminants'),
        ...decons.map(({ record }) => fieldEvidence(record, 'protocol')),
      ],
    },
  ];
}

const units = { 'P-1': {} };
const wells = { 'MW-3': { contaminants: ['organics', 'pfas'] } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const flush = { ...clean, from: '09:10', until: '09:40', protocol: 'pump-flush' } as const;
const rinse = { ...clean, from: '09:40', until: '09:55', protocol: 'pfas-free-rinse' } as const;
const second = { ...first, well: 'MW-5', from: '10:00', until: '11:00' } as const;

export const deconNotForClass: EquipmentRule = {
  code: 'decon-not-for-class',
  title: 'A unit was cleaned by a protocol that does not serve against what the last well holds',
  severity: 'caution',
  addressee: 'now',
  source:
    'California DTSC, Ground Water Sampling (1995 companion series), p. 26, and US EPA, RCRA Ground-Water Monitoring: Draft Technical Guidance, Nov 1992, p. 7-18: fluids by contaminant class; for PFAS state guides, from memory',
  verified: false,
  evaluate: (facts) => facts.entries.flatMap((entry) => faultOf(facts, entry)),
  vectors: [
    {
      name: 'flushed as after organics, out of a well with PFAS',
      given: { units, wells, deeds: [clean, first, flush, second] },
      expect: 'raised',
      says: 'P-1 came out of MW-3, which holds PFAS',
    },
    {
      name: 'and rinsed for PFAS',
      given: { units, wells, deeds: [clean, first, flush, rinse, second] },
      expect: 'silent',
    },
    {
      name: 'a well with organics alone',
      given: { units, wells: { 'MW-3': { contaminants: ['organics'] } }, deeds: [clean, first, flush, second] },
      expect: 'silent',
    },
    { name: 'what it holds is not known', given: { units, deeds: [clean, first, flush, second] }, expect: 'silent' },
    {
      name: 'back into the same well',
      given: { units, wells, deeds: [clean, first, flush, { ...second, well: 'MW-3' }] },
      expect: 'silent',
    },
  ],
};
