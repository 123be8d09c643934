import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import type { Contact } from '../../contact.ts';
import { type EquipmentIndex, wellName } from '../../equipment-index.ts';
import type { OccurrenceRecord } from '../../equipment-records.ts';
import { compareMoments, type Moment, momentOf } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

/** The bladder pump that was down the well of this visit then. */
function pumpAt(index: EquipmentIndex, visit: string, { ms }: Moment): Contact | undefined {
  return (index.contactsOfVisit.get(visit) ?? []).findLast(
    ({ unit, how, from }) =>
      how === 'down-the-well' && from.ms <= ms && index.units.get(unit)?.fields.type === 'bladder-pump',
  );
}

/** A new bladder, another pump in its place, or its going out of service. */
function mendedAt(index: EquipmentIndex, { unit, visit }: Contact, since: Moment): number {
  const bladders = (index.staysOfUnit.get(unit) ?? []).filter(({ type }) => type === 'bladder').map(({ from }) => from);
  const swaps = (index.contactsOfVisit.get(visit) ?? [])
    .filter((other) => other.unit !== unit && index.units.get(other.unit)?.fields.type.endsWith('pump'))
    .map(({ from }) => from);
  const out = (index.lines.get(unit)?.services ?? [])
    .filter(({ type }) => type === 'out-of-service')
    .map(({ moment }) => moment);
  const times = [...bladders, ...swaps, ...out].map(({ ms }) => ms).filter((ms) => ms > since.ms);
  return Math.min(Number.POSITIVE_INFINITY, ...times);
}

/** Mended before anything was sampled through it, it is told no more. */
function isMended(index: EquipmentIndex, contact: Contact, since: Moment): boolean {
  const mended = mendedAt(index, contact, since);
  if (mended === Number.POSITIVE_INFINITY) return false;
  const samples = index.samplesOfVisit.get(contact.visit) ?? [];
  return !samples.some(({ collected }) => collected.ms >= since.ms && collected.ms < mended);
}

function placed(occurrences: readonly OccurrenceRecord[]) {
  return occurrences
    .filter(({ fields }) => fields.type === 'drive-gas-in-discharge')
    .map((record) => ({ record, moment: momentOf(record, record.fields.observed.at, record.fields.observed) }))
    .sort((a, b) => compareMoments(a.moment, b.moment));
}

function faultsOf(
  index: EquipmentIndex,
  visit: string,
  occurrences: readonly OccurrenceRecord[],
): readonly EquipmentFault[] {
  return placed(occurrences).flatMap(({ record, moment }) => {
    const contact = pumpAt(index, visit, moment);
    if (!contact || isMended(index, contact, moment)) return [];
    const name = unitName(index.units.get(contact.unit), contact.unit);
    return [
      {
        subjectKind: 'visit',
        subject: visit,
        visit,
        unit: contact.unit,
        of: contact.unit,
        sentence: `At ${timeOfDay(moment.at)} drive gas came with the water of ${name} in ${wellName(index, contact.well)}: its bladder may be torn, or a fitting loose. Stop, release the pressure, pull it and put in a new bladder before any bottle is filled.`,
        evidence: [fieldEvidence(record, 'type'), contactEvidence(index, contact)],
      },
    ];
  });
}

const units = { 'P-1': { type: 'bladder-pump' }, 'P-2': { type: 'bladder-pump' } } as const;
const parts = { 'bladder-2': { type: 'bladder' } } as const;
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '08:00' } as const;
const gas = { does: 'gas', at: '08:20' } as const;
const fresh = { does: 'part', unit: 'P-1', part: 'bladder-2', action: 'installed', at: '08:40' } as const;

export const driveGasWithWater: EquipmentRule = {
  code: 'drive-gas-with-water',
  title: 'Drive gas came with the water of a bladder pump',
  severity: 'caution',
  addressee: 'now',
  source: 'FRTR remediation technologies, 4.3.1, frtr.gov/site/4_3_1.html: the drive gas does not touch the sample',
  verified: true,
  evaluate: ({ index }) =>
    [...index.occurrencesOfVisit].flatMap(([visit, occurrences]) => faultsOf(index, visit, occurrences)),
  vectors: [
    {
      name: 'bubbles in the discharge',
      given: { units, deeds: [clean, atWell, gas] },
      expect: 'raised',
      says: 'At 08:20 drive gas came with the water of P-1 in MW-3',
    },
    { name: 'a new bladder', given: { units, parts, deeds: [clean, atWell, gas, fresh] }, expect: 'silent' },
    {
      name: 'a new bladder, and a sample before it',
      given: { units, parts, deeds: [clean, { ...atWell, suites: ['VOC'], sampled: '08:30' }, gas, fresh] },
      expect: 'raised',
    },
    {
      name: 'a submersible pump has no drive gas',
      given: { units: { 'P-1': {} }, deeds: [clean, atWell, gas] },
      expect: 'silent',
    },
  ],
};
