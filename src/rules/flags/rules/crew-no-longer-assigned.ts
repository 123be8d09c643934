import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';
import { recordsOfVisit } from '../records-of-visit.ts';

function counted(count: number): string {
  return count === 1 ? 'One record' : `${count} records`;
}

/**
 * The phone could not know, so the work is taken; whether the two crews met at the well, and whose numbers the laboratory
 * gets, is a question for the office. Each record says itself when the assignment had ended: what follows here follows
 * from the records.
 */
export const crewNoLongerAssigned: FlagRule = {
  code: 'crew-no-longer-assigned',
  title: 'A crew recorded after its assignment in the event had ended, which its phone could not know',
  severity: 'question',
  addressee: 'office',
  source: 'The records themselves: what was handed in, and the end of the assignment that the server had taken before',
  verified: true,
  methods: EVERY_METHOD,
  yieldsTo: [],
  looksAtVoided: true,
  evaluate({ bundle }) {
    const late = recordsOfVisit(bundle).filter(({ afterAssignment }) => afterAssignment !== undefined);
    const ends = late.flatMap(({ afterAssignment }) => afterAssignment?.ended ?? []).sort();
    if (late.length === 0) return [];
    const { visit, well } = bundle;
    const who = `${counted(late.length)} of the visit at ${well.fields.name} came from a crew`;
    return [
      {
        subjectKind: 'visit',
        subject: visit.id,
        sentence: `${who} whose assignment had ended at ${ends[0]}, which its phone could not know. Say whether the visit counts.`,
        evidence: late.map(({ id, afterAssignment }) => ({ record: id, shows: `ended ${afterAssignment?.ended}` })),
      },
    ];
  },
  vectors: [
    {
      name: 'a reading after the end',
      given: { readings: [{}, { afterAssignment: '2026-05-04T15:10:00Z' }] },
      expect: 'raised',
      says: 'One record of the visit at MW-4S',
    },
    {
      name: 'the whole visit',
      given: {
        visit: { afterAssignment: '2026-05-04T15:10:00Z' },
        readings: [{ afterAssignment: '2026-05-04T15:10:00Z' }],
      },
      expect: 'raised',
      says: '2 records',
    },
    {
      name: 'the use of a unit alone',
      given: { readings: [{}], uses: [{ afterAssignment: '2026-05-04T15:10:00Z' }] },
      expect: 'raised',
      says: 'One record of the visit at MW-4S',
    },
    { name: 'an assigned crew', given: { readings: [{}, {}], levels: [{}] }, expect: 'silent' },
  ],
};
