import { byKey } from '../../by-key.ts';
import { dayOf } from '../../moment.ts';
import { isDownholePump, isOwnWell, unitName } from '../../unit-kind.ts';
import type { UnitLine } from '../../unit-line.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

function ofUnit({ index, isDayClosed, planOf }: EquipmentFacts, line: UnitLine): readonly EquipmentFault[] {
  if (!isDownholePump(line.unit) || line.unit?.fields.use === 'disposable') return [];
  const asked = line.wet.filter(
    (contact) => planOf(contact.visit).rinsatePer === 'unit-and-day' && !isOwnWell(contact, line.unit),
  );
  const rinsed = new Set((index.blanksOfUnit.get(line.id) ?? []).map(({ collected }) => dayOf(collected)));
  return [...byKey(asked, ({ from }) => dayOf(from))]
    .filter(([day]) => isDayClosed(line.id, day) && !rinsed.has(day))
    .map(([day, contacts]) => ({
      subjectKind: 'unit',
      subject: line.id,
      unit: line.id,
      of: day,
      sentence: `The plan asks for an equipment blank through each pump and day: none is recorded through ${unitName(line.unit, line.id)} on ${day}. Take it after the next decon, or record the one that was taken.`,
      evidence: contacts.map((contact) => contactEvidence(index, contact)),
    }));
}

const units = { 'P-1': {} };
const plan = { rinsatePer: 'unit-and-day' } as const;
const closed = ['2026-05-04'];
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const after = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;

export const rinsateMissing: EquipmentRule = {
  code: 'rinsate-missing',
  title: 'No equipment blank through a pump on a day on which it was used',
  severity: 'note',
  addressee: 'tonight',
  source: 'The plan of the event; each day and pump where PFAS matter: state PFAS guides, from memory',
  verified: false,
  evaluate: (facts) => [...facts.index.lines.values()].flatMap((line) => ofUnit(facts, line)),
  vectors: [
    {
      name: 'the day is over',
      given: { units, plan, closed, deeds: [clean, atWell, after] },
      expect: 'raised',
      says: 'none is recorded through P-1 on 2026-05-04',
    },
    { name: 'the day goes on', given: { units, plan, deeds: [clean, atWell, after] }, expect: 'silent' },
    { name: 'not asked for', given: { units, closed, deeds: [clean, atWell, after] }, expect: 'silent' },
    {
      name: 'taken at the end of the day',
      given: { units, plan, closed, deeds: [clean, atWell, after, { does: 'rinsate', unit: 'P-1', at: '17:00' }] },
      expect: 'silent',
    },
    {
      name: 'taken on another day',
      given: {
        units,
        plan,
        closed,
        deeds: [clean, atWell, after, { does: 'rinsate', unit: 'P-1', at: '05-03 17:00' }],
      },
      expect: 'raised',
    },
    {
      name: 'a dedicated pump in its well',
      given: { units: { 'P-1': { use: 'dedicated', dedicatedTo: 'MW-3' } }, plan, closed, deeds: [atWell] },
      expect: 'silent',
    },
    {
      name: 'a tape, through which no rinsate is taken',
      given: { units: { 'P-1': { type: 'water-level-tape' } }, plan, closed, deeds: [clean, atWell, after] },
      expect: 'silent',
    },
  ],
};
