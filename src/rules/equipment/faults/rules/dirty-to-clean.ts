import { DEFAULT_DIRTIER_FACTOR, type Dirtier, dirtierThan } from '../../../well-order/dirtier.ts';
import { rankWells } from '../../../well-order/well-rank.ts';
import { wholeStanding } from '../../blank-standing.ts';
import { type Carrier, carrierName, carriersDuring, contactsOfCarrier } from '../../carrier.ts';
import type { Contact } from '../../contact.ts';
import { wellName } from '../../equipment-index.ts';
import { isDry, isOwnWell } from '../../unit-kind.ts';
import type { EquipmentFacts, EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';
import type { WellEntry } from '../well-entry.ts';

/** What hangs in the water and goes from well to well; a tape is left out, for no blank is taken through it. */
function linksWells({ index }: EquipmentFacts, carrier: Carrier, contact: Contact): boolean {
  const unit = index.units.get(contact.unit);
  if (contact.how !== 'down-the-well' || isOwnWell(contact, unit)) return false;
  if (unit?.fields.type === 'water-level-tape') return false;
  return carrier.kind === 'part' || (!isDry(unit) && unit?.fields.use !== 'disposable');
}

/**
 * A blank that passed between the two wells shows that nothing came along; one that waits for its result is what is asked
 * for here, and one that failed says so itself.
 */
function isBlankBetween({ index }: EquipmentFacts, before: Contact, contact: Contact): boolean {
  return [before.unit, contact.unit].some((unit) =>
    (index.blanksOfUnit.get(unit) ?? []).some(({ record, collected }) => {
      if (collected.ms < before.from.ms || collected.ms > contact.from.ms) return false;
      const standing = wholeStanding(index.resultsOfBlank.get(record.id) ?? []);
      return standing === 'clean' || standing === 'no-result';
    }),
  );
}

function dirtier(facts: EquipmentFacts, before: Contact, contact: Contact): Dirtier | null {
  const ranks = rankWells([facts.levelOf(before), facts.levelOf(contact)]);
  const [from, to] = [ranks.get(before.well), ranks.get(contact.well)];
  if (!from || !to) return null;
  const found = dirtierThan(from, to, facts.planOf(contact.visit).dirtierFactor ?? DEFAULT_DIRTIER_FACTOR);
  return found?.by === 'not-known' ? null : found;
}

type Before = (carrier: Carrier, contact: Contact) => Contact | undefined;

/** The stay before of each carrier, looked up once. */
function befores(facts: EquipmentFacts): Before {
  const known = new Map<string, ReadonlyMap<Contact, Contact | undefined>>();
  return (carrier, contact) => {
    const key = `${carrier.kind} ${carrier.id}`;
    const contacts = known.has(key) ? [] : contactsOfCarrier(facts.index, carrier);
    const its = known.get(key) ?? new Map(contacts.map((one, at) => [one, contacts[at - 1]]));
    known.set(key, its);
    return its.get(contact);
  };
}

function faultOf(facts: EquipmentFacts, { contact }: WellEntry, beforeOf: Before): readonly EquipmentFault[] {
  const { index } = facts;
  for (const carrier of carriersDuring(index, contact)) {
    const before = linksWells(facts, carrier, contact) ? beforeOf(carrier, contact) : undefined;
    if (!before || before.well === contact.well || isBlankBetween(facts, before, contact)) continue;
    const found = dirtier(facts, before, contact);
    if (!found) continue;
    const [from, to] = [wellName(index, before.well), wellName(index, contact.well)];
    return [
      {
        subjectKind: 'visit',
        subject: contact.visit,
        visit: contact.visit,
        unit: contact.unit,
        of: contact.unit,
        sentence: `${carrierName(index, carrier)} went from ${from} into the cleaner ${to}: ${found.how}. Cleanest first keeps what is left behind out of the sample; an equipment blank in between would show that nothing came along.`,
        evidence: [contactEvidence(index, contact), contactEvidence(index, before)],
      },
    ];
  }
  return [];
}

const units = { 'P-1': {} };
const pce = (value: string) => [
  { analyte: 'tetrachloroethene', value, unit: 'ug/L', reportingLimit: '0.5', condition: 'detected' as const },
];
const lastResults = { 'MW-3': pce('500'), 'MW-5': pce('5.0'), 'MW-6': pce('50.0') };
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const first = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00', until: '09:00' } as const;
const again = { does: 'decon', unit: 'P-1', from: '09:10', until: '09:40' } as const;
const second = { ...first, well: 'MW-5', from: '10:00', until: '11:00' } as const;
const deeds = [clean, first, again, second];

export const dirtyToClean: EquipmentRule = {
  code: 'dirty-to-clean',
  title: 'A shared pump went from a dirtier well into a much cleaner one without a blank in between',
  severity: 'note',
  addressee: 'tonight',
  source:
    'Cleanest first: US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a copy; the factor: common practice, no source',
  verified: true,
  evaluate: (facts) => {
    const before = befores(facts);
    return facts.entries.filter(({ cause }) => cause === null).flatMap((entry) => faultOf(facts, entry, before));
  },
  vectors: [
    {
      name: 'a hundred times',
      given: { units, lastResults, deeds },
      expect: 'raised',
      says: 'P-1 went from MW-3 into the cleaner MW-5: 100 times as much',
    },
    {
      name: 'ten times, which is not more than the factor',
      given: { units, lastResults, deeds: [clean, first, again, { ...second, well: 'MW-6' }] },
      expect: 'silent',
    },
    {
      name: 'ten times, where the plan sets five',
      given: {
        units,
        lastResults,
        plan: { dirtierFactor: '5' },
        deeds: [clean, first, again, { ...second, well: 'MW-6' }],
      },
      expect: 'raised',
    },
    {
      name: 'from clean to dirty',
      given: { units, lastResults, deeds: [clean, { ...first, well: 'MW-5' }, again, { ...second, well: 'MW-3' }] },
      expect: 'silent',
    },
    {
      name: 'a blank in between that passed',
      given: { units, lastResults, deeds: [...deeds, { does: 'rinsate', unit: 'P-1', at: '09:50', found: null }] },
      expect: 'silent',
    },
    {
      name: 'a blank in between that waits for its result',
      given: { units, lastResults, deeds: [...deeds, { does: 'rinsate', unit: 'P-1', at: '09:50' }] },
      expect: 'silent',
    },
    {
      name: 'a blank in between that failed',
      given: { units, lastResults, deeds: [...deeds, { does: 'rinsate', unit: 'P-1', at: '09:50', found: '0.8' }] },
      expect: 'raised',
    },
    {
      name: 'by the class that the office assigned',
      given: { units, wells: { 'MW-3': { assignedClass: 'high' }, 'MW-5': { assignedClass: 'low' } }, deeds },
      expect: 'raised',
      says: 'high before low',
    },
    { name: 'nothing is known of the wells', given: { units, deeds }, expect: 'silent' },
    {
      name: 'the pump was not cleaned, which tells more',
      given: { units, lastResults, deeds: [clean, first, second] },
      expect: 'silent',
    },
    {
      name: 'each well has its pump',
      given: {
        units: { 'P-1': {}, 'P-2': {} },
        lastResults,
        deeds: [clean, first, { ...clean, unit: 'P-2' }, { ...second, unit: 'P-2' }],
      },
      expect: 'silent',
    },
    {
      name: 'tubing that went over to another pump',
      given: {
        units: { 'P-1': { type: 'peristaltic-pump' }, 'P-2': { type: 'peristaltic-pump' } },
        lastResults,
        parts: { 'line-1': { type: 'tubing' } },
        deeds: [
          { does: 'part', unit: 'P-1', part: 'line-1', action: 'installed', at: '07:40' },
          first,
          { does: 'part', unit: 'P-2', part: 'line-1', action: 'installed', at: '09:30' },
          { ...second, unit: 'P-2' },
        ],
      },
      expect: 'raised',
      says: 'tubing line-1 went from MW-3',
    },
  ],
};
