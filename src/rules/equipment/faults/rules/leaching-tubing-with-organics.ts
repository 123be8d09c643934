import { groupsOfSuite } from '../../../../catalog/materials/suite-groups.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import type { Evidence } from '../../../flags/raised-flag.ts';
import { carrierName } from '../../carrier.ts';
import type { Contact } from '../../contact.ts';
import { wellName } from '../../equipment-index.ts';
import type { SetUpRecord } from '../../equipment-records.ts';
import { momentOf } from '../../moment.ts';
import type { TouchedSample } from '../../touched-samples.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { inOrderOfSetUp } from '../last-set-ups.ts';

/** What gives off organic compounds by the study; "flexible PVC" and not the rigid pipe. */
const LEACHES =
  /polyurethane|polyamide|nylon|(?:flexible|soft|plasticized|plasticised) (?:pvc|polyvinyl)|(?:pvc|vinyl) (?:hose|tubing)|thermoplastic elastomer|\btpe\b/i;

interface Found {
  readonly what: string;
  readonly evidence: Evidence;
}

function isOrganic({ record }: TouchedSample): boolean {
  return record.fields.suites.some((suite) =>
    groupsOfSuite(suite).some((group) => group === 'volatiles' || group === 'semivolatiles'),
  );
}

/** The set-up that was in force when it was taken, else the first. */
function setUpOf({ index }: EquipmentFacts, { contact, collected }: TouchedSample): SetUpRecord | undefined {
  const its = inOrderOfSetUp(
    (index.setUpsOfVisit.get(contact.visit) ?? []).filter(({ fields }) => fields.pump === contact.unit),
  );
  const before = its.findLast(
    (record) => momentOf(record, record.fields.observed.at, record.fields.observed).ms <= collected.ms,
  );
  return before ?? its[0];
}

function ofSetUp(setUp: SetUpRecord | undefined): readonly Found[] {
  const material = setUp?.fields.tubingMaterial;
  if (!setUp || !material || !LEACHES.test(material)) return [];
  return [{ what: `tubing of ${material}`, evidence: fieldEvidence(setUp, 'tubingMaterial') }];
}

function ofParts({ index }: EquipmentFacts, contact: Contact): readonly Found[] {
  return (index.staysDuring.get(contact) ?? [])
    .flatMap(({ part }) => index.parts.get(part) ?? [])
    .filter(({ fields }) => (fields.type === 'tubing' || fields.type === 'hose') && LEACHES.test(fields.material ?? ''))
    .map((part) => ({
      what: `${carrierName(index, { kind: 'part', id: part.id })} of ${part.fields.material}`,
      evidence: fieldEvidence(part, 'material'),
    }));
}

function ofSample(facts: EquipmentFacts, sample: TouchedSample): readonly EquipmentFault[] {
  const { contact, record } = sample;
  if (contact.how !== 'down-the-well' || !isOrganic(sample)) return [];
  const found = [...ofSetUp(setUpOf(facts, sample)), ...ofParts(facts, contact)];
  if (found.length === 0) return [];
  const through = listText([...new Set(found.map(({ what }) => what))].toSorted());
  return [
    {
      subjectKind: 'sample',
      subject: record.id,
      visit: contact.visit,
      unit: contact.unit,
      of: contact.unit,
      sentence: `${record.fields.number} for organics at ${wellName(facts.index, contact.well)} passed ${through}, which gives off organic compounds. Sample again through another tubing, or take an equipment blank through it.`,
      evidence: [fieldEvidence(record, 'suites'), ...found.map(({ evidence }) => evidence)],
    },
  ];
}

const units = { 'P-1': {} };
const parts = { 'line-1': { type: 'tubing', material: 'polyurethane' } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const atWell = {
  does: 'at-well',
  unit: 'P-1',
  well: 'MW-3',
  from: '08:00',
  sampled: '08:40',
  suites: ['SVOC 8270'],
} as const;

export const leachingTubingWithOrganics: EquipmentRule = {
  code: 'leaching-tubing-with-organics',
  title: 'A sample for organics passed tubing that gives off organic compounds',
  severity: 'question',
  addressee: 'now',
  source:
    'US Army CRREL, Special Report 96-3: polyurethane, polyamide, flexible PVC and silicone-modified thermoplastic elastomer leach',
  verified: true,
  evaluate: (facts) => [...facts.index.samplesOfUnit.values()].flat().flatMap((sample) => ofSample(facts, sample)),
  vectors: [
    {
      name: 'a set-up with polyurethane tubing',
      given: { units, deeds: [clean, { ...atWell, tubingMaterial: 'polyurethane' }] },
      expect: 'raised',
      says: 'S-2 for organics at MW-3 passed tubing of polyurethane',
    },
    {
      name: 'such a tubing that was put on',
      given: {
        units,
        parts,
        deeds: [clean, { does: 'part', unit: 'P-1', part: 'line-1', action: 'installed', at: '07:40' }, atWell],
      },
      expect: 'raised',
      says: 'tubing line-1 of polyurethane',
    },
    {
      name: 'polyethylene',
      given: { units, deeds: [clean, { ...atWell, tubingMaterial: 'polyethylene' }] },
      expect: 'silent',
    },
    {
      name: 'metals through it',
      given: { units, deeds: [clean, { ...atWell, tubingMaterial: 'polyurethane', suites: ['metals'] }] },
      expect: 'silent',
    },
  ],
};
