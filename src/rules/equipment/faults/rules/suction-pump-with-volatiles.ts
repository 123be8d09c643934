import { groupsOfSuite } from '../../../../catalog/materials/suite-groups.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { byKey } from '../../by-key.ts';
import { wellName } from '../../equipment-index.ts';
import type { TouchedSample } from '../../touched-samples.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

function isVolatile({ record }: TouchedSample): boolean {
  return record.fields.suites.some((suite) => groupsOfSuite(suite).includes('volatiles'));
}

function ofPump({ index }: EquipmentFacts, pump: string): readonly EquipmentFault[] {
  const unit = index.units.get(pump);
  if (unit?.fields.type !== 'peristaltic-pump') return [];
  const touched = (index.samplesOfUnit.get(pump) ?? []).filter(
    (sample) => isVolatile(sample) && sample.contact.how === 'down-the-well',
  );
  return [...byKey(touched, ({ contact }) => contact.visit)].flatMap(([visit, samples]) => {
    const [first] = samples;
    if (!first) return [];
    const numbers = samples.map(({ record }) => record.fields.number).toSorted();
    return [
      {
        subjectKind: 'visit',
        subject: visit,
        visit,
        unit: pump,
        of: pump,
        sentence: `${listText(numbers)} for volatiles came out of ${wellName(index, first.contact.well)} by ${unitName(unit, pump)}, a suction pump: suction takes dissolved gases and volatiles out of the water. Take them by a pump in the well, or have the office say that the plan allows it.`,
        evidence: [
          contactEvidence(index, first.contact),
          ...samples.map(({ record }) => fieldEvidence(record, 'suites')),
        ],
      },
    ];
  });
}

const units = { 'S-1': { type: 'peristaltic-pump' } } as const;
const atWell = { does: 'at-well', unit: 'S-1', well: 'MW-3', from: '08:00', sampled: '08:40' } as const;

export const suctionPumpWithVolatiles: EquipmentRule = {
  code: 'suction-pump-with-volatiles',
  title: 'A sample for volatiles taken by a suction pump',
  severity: 'question',
  addressee: 'now',
  source:
    'Minnesota Department of Agriculture, GD12, attachment 4, after US EPA/540/P-91, Jan 1991: a vacuum loses dissolved gases and volatiles; some programmes allow it where the lift is small (from memory)',
  verified: true,
  evaluate: (facts) => [...facts.index.lines.keys()].flatMap((unit) => ofPump(facts, unit)),
  vectors: [
    {
      name: 'VOC by a peristaltic pump',
      given: { units, deeds: [{ ...atWell, suites: ['VOC 8260'] }] },
      expect: 'raised',
      says: 'S-1 for volatiles came out of MW-3 by S-1, a suction pump',
    },
    { name: 'metals by it', given: { units, deeds: [{ ...atWell, suites: ['metals'] }] }, expect: 'silent' },
    {
      name: 'VOC by a pump in the well',
      given: {
        units: { 'S-1': {} },
        deeds: [
          { does: 'decon', unit: 'S-1', from: '07:00', until: '07:30' },
          { ...atWell, suites: ['VOC'] },
        ],
      },
      expect: 'silent',
    },
  ],
};
