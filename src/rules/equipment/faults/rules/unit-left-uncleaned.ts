import { wellName } from '../../equipment-index.ts';
import { dayOf } from '../../moment.ts';
import { isDownholePump, unitName } from '../../unit-kind.ts';
import type { EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence, REGION_1 } from '../fault-parts.ts';

const units = { 'P-1': {} };
const closed = ['2026-05-04'];
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const after = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;

/** Only while it is still so: what was mended the next morning, or told at the next well, is told no more. */
export const unitLeftUncleaned: EquipmentRule = {
  code: 'unit-left-uncleaned',
  title: 'A pump was not cleaned after its last well of the day',
  severity: 'note',
  addressee: 'tonight',
  source: `${REGION_1}: cleaned after every well; before leaving the site: US Army depot SOP-003, rev. 1, 3.2, county file, doc 798934, page 69`,
  verified: true,
  evaluate: ({ index, isDayClosed }) =>
    [...index.lines.values()].flatMap(({ id, unit, life }) => {
      const span = life.spans.at(-1);
      if (!span || !isDownholePump(unit) || unit?.fields.use === 'disposable') return [];
      const contact = span.cause.by === 'contact' ? span.cause.contact : null;
      if (span.state !== 'used' || !contact || !isDayClosed(id, dayOf(contact.from))) return [];
      return [
        {
          subjectKind: 'unit',
          subject: id,
          unit: id,
          of: contact.visit,
          sentence: `${unitName(unit, id)} came out of ${wellName(index, contact.well)} and no complete decon is recorded since. Clean it before it is put away, and before its next well.`,
          evidence: [contactEvidence(index, contact)],
        },
      ];
    }),
  vectors: [
    {
      name: 'the day is over',
      given: { units, closed, deeds: [clean, atWell] },
      expect: 'raised',
      says: 'P-1 came out of MW-3',
    },
    { name: 'the day goes on', given: { units, deeds: [clean, atWell] }, expect: 'silent' },
    { name: 'cleaned', given: { units, closed, deeds: [clean, atWell, after] }, expect: 'silent' },
    {
      name: 'cleaned the next morning',
      given: { units, closed, deeds: [clean, atWell, { ...after, from: '05-05 07:00', until: '05-05 07:30' }] },
      expect: 'silent',
    },
    {
      name: 'a dedicated pump in its well',
      given: { units: { 'P-1': { use: 'dedicated', dedicatedTo: 'MW-3' } }, closed, deeds: [atWell] },
      expect: 'silent',
    },
  ],
};
