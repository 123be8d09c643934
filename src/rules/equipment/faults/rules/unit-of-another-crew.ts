import { fieldEvidence } from '../../../flags/evidence.ts';
import type { Contact } from '../../contact.ts';
import { type EquipmentIndex, wellName } from '../../equipment-index.ts';
import type { SignOutRecord } from '../../equipment-records.ts';
import { doubtBetween, type Moment, momentOf, momentText } from '../../moment.ts';
import { unitName } from '../../unit-kind.ts';
import type { EquipmentFault, EquipmentRule } from '../equipment-rule.ts';
import { contactEvidence } from '../fault-parts.ts';

interface Span {
  readonly record: SignOutRecord;
  readonly from: Moment;
  readonly until: Moment | null;
}

function spanOf(record: SignOutRecord): Span {
  const { from, until, observed } = record.fields;
  return {
    record,
    from: momentOf(record, from, observed),
    until: until ? momentOf(record, until, observed) : null,
  };
}

function holdsAt({ from, until }: Span, at: Moment): boolean {
  return from.ms <= at.ms && (until === null || until.ms > at.ms);
}

/** In the minute of a hand-over either crew may have it. */
function mayHoldAt({ from, until }: Span, at: Moment): boolean {
  return from.ms <= at.ms && (until === null || until.ms >= at.ms);
}

/** The clocks let one of these have begun or ended on the other side of it. */
function isInDoubt(spans: readonly Span[], at: Moment): boolean {
  return spans
    .flatMap(({ from, until }) => (until ? [from, until] : [from]))
    .some((moment) => {
      const doubtMs = doubtBetween(moment, at);
      return doubtMs > 0 && Math.abs(moment.ms - at.ms) <= doubtMs;
    });
}

/** The crew of the visit, and those that took it over. */
function crewsAt(index: EquipmentIndex, visit: string): ReadonlySet<string> {
  const crew = index.visits.get(visit)?.crew;
  const over = (index.occurrencesOfVisit.get(visit) ?? []).map(({ fields }) => fields.toCrew);
  return new Set([crew, ...over].filter((one) => typeof one === 'string'));
}

function faultOf(index: EquipmentIndex, spans: readonly Span[], contact: Contact): readonly EquipmentFault[] {
  const { unit, visit, well, from } = contact;
  const crews = crewsAt(index, visit);
  const taken = spans.filter((span) => holdsAt(span, from));
  const isOwn = (span: Span) => crews.has(span.record.fields.crew) && mayHoldAt(span, from);
  if (taken.length === 0 || spans.some(isOwn)) return [];
  return [
    {
      subjectKind: 'visit',
      subject: visit,
      unit,
      of: unit,
      isPossible: isInDoubt(spans, from),
      sentence: `${unitName(index.units.get(unit), unit)} was used at ${wellName(index, well)} on ${momentText(from)} while it was signed out to another crew. Record the hand-over, or correct which unit it was.`,
      evidence: [contactEvidence(index, contact), ...taken.map(({ record }) => fieldEvidence(record, 'crew'))],
    },
  ];
}

const units = { 'P-1': {} };
const clean = { does: 'decon', unit: 'P-1', from: '07:00', until: '07:30' } as const;
const atWell = { does: 'at-well', unit: 'P-1', well: 'MW-3', from: '09:00', until: '10:00' } as const;
const other = { does: 'signs-out', unit: 'P-1', crew: 'other crew', from: '06:30' } as const;
const own = { ...other, crew: 'crew', from: '08:30' } as const;

export const unitOfAnotherCrew: EquipmentRule = {
  code: 'unit-of-another-crew',
  title: 'A unit was used by a crew while another had signed it out',
  severity: 'question',
  addressee: 'tonight',
  source: 'Arithmetic of the records',
  verified: true,
  evaluate: ({ index, entries }) => {
    // two wells at once tell more: one of the two records is wrong
    const twice = new Set(entries.flatMap(({ contact, overlapped }) => (overlapped ? [contact, overlapped] : [])));
    return [...index.signOutsOfUnit].flatMap(([unit, records]) => {
      const spans = records.map(spanOf);
      const contacts = (index.lines.get(unit)?.contacts ?? []).filter((contact) => !twice.has(contact));
      return contacts.flatMap((contact) => faultOf(index, spans, contact));
    });
  },
  vectors: [
    {
      name: 'handed on without a word',
      given: { units, deeds: [other, clean, atWell] },
      expect: 'raised',
      says: 'P-1 was used at MW-3 on 2026-05-04 09:00 while it was signed out to another crew',
    },
    {
      name: 'handed over',
      given: { units, deeds: [{ ...other, until: '08:30' }, own, clean, atWell] },
      expect: 'silent',
    },
    {
      name: 'both have it: a conflict of the two sign-outs',
      given: { units, deeds: [other, own, clean, atWell] },
      expect: 'silent',
    },
    {
      name: 'handed over in the minute in which it went in',
      given: { units, deeds: [{ ...own, until: '09:00' }, { ...other, from: '09:00' }, clean, atWell] },
      expect: 'silent',
    },
    { name: 'nobody signed it out', given: { units, deeds: [clean, atWell] }, expect: 'silent' },
    {
      name: 'back by then',
      given: { units, deeds: [{ ...other, until: '08:50' }, clean, atWell] },
      expect: 'silent',
    },
    {
      name: 'a relief crew with its own pump',
      given: {
        units,
        deeds: [other, clean, atWell, { does: 'hands-over', at: '09:20', crew: 'other crew' }],
      },
      expect: 'silent',
    },
    {
      name: 'brought back some minutes after by a phone whose clock is in doubt: possible',
      given: {
        units,
        deeds: [{ ...other, until: '09:03', client: 'phone-2', doubtMin: 5 }, clean, { ...atWell, doubtMin: 0 }],
      },
      expect: 'raised',
    },
  ],
};
