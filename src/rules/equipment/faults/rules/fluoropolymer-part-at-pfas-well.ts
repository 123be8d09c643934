import { groupsOfSuite } from '../../../../catalog/materials/suite-groups.ts';
import { materialsNamed } from '../../../../catalog/materials/wetted-materials.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { carrierName } from '../../carrier.ts';
import type { Contact } from '../../contact.ts';
import { type EquipmentIndex, wellName } from '../../equipment-index.ts';
import type { PartRecord } from '../../equipment-records.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

function isFluoropolymer(material: string | null | undefined): boolean {
  return materialsNamed(material ?? '').some(({ name }) => name === 'ptfe' || name === 'other-fluoropolymer');
}

function hasPfasSample(index: EquipmentIndex, { visit }: Contact): boolean {
  const samples = index.samplesOfVisit.get(visit) ?? [];
  return samples.some(({ record }) => record.fields.suites.some((suite) => groupsOfSuite(suite).includes('pfas')));
}

function isPfasWell(index: EquipmentIndex, contact: Contact): boolean {
  return Boolean(index.wells.get(contact.well)?.fields.contaminants?.includes('pfas')) || hasPfasSample(index, contact);
}

/** Where the set-up itself names such a material and a PFAS sample was taken, the flag of the visit tells it. */
function isToldByVisit(index: EquipmentIndex, contact: Contact): boolean {
  if (!hasPfasSample(index, contact)) return false;
  const setUps = index.setUpsOfVisit.get(contact.visit) ?? [];
  const named = setUps.flatMap(({ fields }) => [fields.bladderMaterial, fields.tubingMaterial]);
  const own = index.units.get(contact.unit)?.fields.wettedParts ?? [];
  return [...named, ...own.map(({ material }) => material)].some(isFluoropolymer);
}

function partsOn(index: EquipmentIndex, contact: Contact): readonly PartRecord[] {
  return (index.staysDuring.get(contact) ?? [])
    .flatMap(({ part }) => index.parts.get(part) ?? [])
    .filter(({ fields }) => isFluoropolymer(fields.material));
}

const units = { 'P-1': { type: 'bladder-pump' } } as const;
const wells = { 'MW-3': { contaminants: ['pfas'] } } as const;
const parts = { 'bladder-1': { type: 'bladder', material: 'PTFE' } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const on = { does: 'part', unit: 'P-1', part: 'bladder-1', action: 'installed', at: '07:20' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' } as const;

export const fluoropolymerPartAtPfasWell: EquipmentRule = {
  code: 'fluoropolymer-part-at-pfas-well',
  title: 'A unit with a fluoropolymer soft part was used where PFAS matter',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: for PFAS no PTFE; FEP, PFA, ETFE and PVDF: state PFAS guides (from memory)',
  verified: false,
  evaluate: ({ index, entries }) =>
    entries
      .filter(({ contact }) => isPfasWell(index, contact) && !isToldByVisit(index, contact))
      .flatMap(({ contact, line }) => {
        const found = partsOn(index, contact);
        if (found.length === 0) return [];
        const names = found.map(
          ({ id, fields }) => `${carrierName(index, { kind: 'part', id })} of ${fields.material}`,
        );
        return [
          {
            subjectKind: 'visit',
            subject: contact.visit,
            visit: contact.visit,
            unit: line.id,
            of: line.id,
            sentence: `${unitName(line.unit, line.id)} was used at ${wellName(index, contact.well)}, where PFAS matter, with a ${listText(names.toSorted())}. Put in one of polyethylene, or take an equipment blank through it.`,
            evidence: [contactEvidence(index, contact), ...found.map((part) => fieldEvidence(part, 'material'))],
          },
        ];
      }),
  vectors: [
    {
      name: 'a PTFE bladder that was installed, in a PFAS well',
      given: { units, wells, parts, deeds: [clean, on, atWell] },
      expect: 'raised',
      says: 'with a bladder bladder-1 of PTFE',
    },
    {
      name: 'a polyethylene bladder',
      given: {
        units,
        wells,
        parts: { 'bladder-1': { type: 'bladder', material: 'polyethylene' } },
        deeds: [clean, on, atWell],
      },
      expect: 'silent',
    },
    {
      name: 'a well where PFAS do not matter',
      given: { units, parts, deeds: [clean, on, { ...atWell, suites: ['metals'] }] },
      expect: 'silent',
    },
    {
      name: 'a PFAS sample of a well without classes',
      given: { units, parts, deeds: [clean, on, { ...atWell, suites: ['PFAS'] }] },
      expect: 'raised',
    },
    {
      name: 'the set-up names the material itself: the flag of the visit tells it',
      given: { units, wells, parts, deeds: [clean, on, { ...atWell, suites: ['PFAS'], bladderMaterial: 'PTFE' }] },
      expect: 'silent',
    },
    {
      name: 'changed before the well',
      given: { units, wells, parts, deeds: [clean, on, { ...on, action: 'removed', at: '07:40' }, atWell] },
      expect: 'silent',
    },
  ],
};
