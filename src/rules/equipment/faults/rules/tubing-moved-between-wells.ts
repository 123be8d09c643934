import { groupsOfSuite } from '../../../../catalog/materials/suite-groups.ts';
import { carrierName, contactsOfCarrier } from '../../carrier.ts';
import type { Contact } from '../../contact.ts';
import { type EquipmentIndex, wellName } from '../../equipment-index.ts';
import { isOwnWell } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';
import { partFaults } from '../part-use.ts';

function hasVolatiles(index: EquipmentIndex, { visit }: Contact): boolean {
  return (index.samplesOfVisit.get(visit) ?? []).some(({ record }) =>
    record.fields.suites.some((suite) => groupsOfSuite(suite).includes('volatiles')),
  );
}

interface Move {
  readonly part: string;
  readonly before: Contact;
  readonly contact: Contact;
}

function movesOf({ index, entries }: EquipmentFacts): readonly Move[] {
  // a unit that was not cleaned tells more than its tubing
  const sound = new Set(entries.flatMap(({ contact, cause }) => (cause === null ? [contact] : [])));
  const tubing = [...index.staysOfPart.keys()].filter((id) => index.parts.get(id)?.fields.type === 'tubing');
  return tubing.toSorted().flatMap((part) => {
    const contacts = contactsOfCarrier(index, { kind: 'part', id: part });
    return contacts.flatMap((contact, at) => {
      const before = contacts[at - 1];
      const isMove = before !== undefined && before.well !== contact.well && sound.has(contact);
      return isMove && !isOwnWell(contact, index.units.get(contact.unit)) ? [{ part, before, contact }] : [];
    });
  });
}

function faultOf(index: EquipmentIndex, { part, before, contact }: Move): EquipmentFault {
  return {
    subjectKind: 'visit',
    subject: contact.visit,
    visit: contact.visit,
    unit: contact.unit,
    of: part,
    sentence: `The ${carrierName(index, { kind: 'part', id: part })} went from ${wellName(index, before.well)} into ${wellName(index, contact.well)}, where volatiles were sampled: what tubing took up it gives off later, also after cleaning. Use tubing of its own for each well, or take an equipment blank through it.`,
    evidence: [contactEvidence(index, contact), contactEvidence(index, before)],
  };
}

const units = { 'P-1': {} };
const parts = { 'line-1': { type: 'tubing' }, 'line-2': { type: 'tubing' } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const on = { does: 'part', unit: 'P-1', part: 'line-1', action: 'installed', at: '07:40' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const again = { ...clean, from: '09:10', until: '09:40' } as const;
const second = { ...first, well: 'MW-5', from: '10:00', until: '11:00', suites: ['VOC'] } as const;

export const tubingMovedBetweenWells: EquipmentRule = {
  code: 'tubing-moved-between-wells',
  title: 'Tubing of another well was used where volatiles were sampled',
  severity: 'note',
  addressee: 'tonight',
  source:
    'OSTI record 290211, sorption of trichloroethene by tubing: all tubing tested can release later what it took up',
  verified: true,
  evaluate: (facts) => {
    const told = new Set(partFaults(facts).map(({ part, contact }) => `${part} ${contact.visit}`));
    return movesOf(facts)
      .filter(({ part, contact }) => hasVolatiles(facts.index, contact) && !told.has(`${part} ${contact.visit}`))
      .map((move) => faultOf(facts.index, move));
  },
  vectors: [
    {
      name: 'into the next well, cleaned with the pump',
      given: { units, parts, deeds: [clean, on, first, again, second] },
      expect: 'raised',
      says: 'The tubing line-1 went from MW-3 into MW-5',
    },
    {
      name: 'tubing of its own',
      given: {
        units,
        parts,
        deeds: [
          clean,
          on,
          first,
          { ...on, action: 'removed', at: '09:05' },
          again,
          { ...on, part: 'line-2', at: '09:50' },
          second,
        ],
      },
      expect: 'silent',
    },
    {
      name: 'metals alone',
      given: { units, parts, deeds: [clean, on, first, again, { ...second, suites: ['metals'] }] },
      expect: 'silent',
    },
  ],
};
