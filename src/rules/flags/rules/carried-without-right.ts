import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';
import { recordsOfVisit, type VisitRecord } from '../records-of-visit.ts';

/** The devices that handed a record in without a right of their own. */
export function strangers({ carriedBy = [] }: VisitRecord): readonly string[] {
  return carriedBy.flatMap(({ right, device }) => (right || device === null ? [] : [device]));
}

function counted(count: number): string {
  return count === 1 ? 'One record' : `${count} records`;
}

/**
 * What a partner carries is taken with the right of its author, whose phone may be at the bottom of a river. Whether it is
 * what the author captured, nobody but the author can say.
 */
export const carriedWithoutRight: FlagRule = {
  code: 'carried-without-right',
  title: 'A copy of the work of another phone was handed in by a device whose crew had no right in the event',
  severity: 'question',
  addressee: 'office',
  source: 'The records themselves: who handed each of them in, and whether that crew was assigned to the event then',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: [],
  looksAtVoided: true,
  evaluate({ bundle }) {
    const carried = recordsOfVisit(bundle).filter((record) => strangers(record).length > 0);
    if (carried.length === 0) return [];
    const { visit, well } = bundle;
    const what = `${counted(carried.length)} of the visit at ${well.fields.name} came as a copy`;
    return [
      {
        subjectKind: 'visit',
        subject: visit.id,
        sentence: `${what}, handed in by a device whose crew had no right in the event. Ask the crew whether it captured this.`,
        evidence: carried.map((record) => ({
          record: record.id,
          shows: `handed in by device ${strangers(record).join(', ')}`,
        })),
      },
    ];
  },
  vectors: [
    {
      name: 'a reading that a crew of another event carried',
      given: { readings: [{}, { carriedWithRight: false }] },
      expect: 'raised',
      says: 'One record of the visit at MW-4S',
    },
    {
      name: 'the whole visit',
      given: { visit: { carriedWithRight: false }, readings: [{ carriedWithRight: false }] },
      expect: 'raised',
      says: '2 records',
    },
    {
      name: 'a partner who is assigned to the event as well',
      given: { readings: [{}, { carriedWithRight: true }] },
      expect: 'silent',
    },
    {
      name: 'the use of a unit alone',
      given: { readings: [{}], uses: [{ carriedWithRight: false }] },
      expect: 'raised',
      says: 'One record of the visit at MW-4S',
    },
    { name: 'nothing was carried', given: { readings: [{}, {}], levels: [{}] }, expect: 'silent' },
  ],
};
