import { fieldEvidence } from '../evidence.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';

export const leftWithoutOutcome: FlagRule = {
  code: 'left-without-outcome',
  title: 'The crew left the well and nobody said how the visit ended',
  severity: 'question',
  addressee: 'tonight',
  source: 'Common practice, no source: a visit ends with its outcome',
  verified: false,
  methods: EVERY_METHOD,
  yieldsTo: [],
  evaluate({ bundle: { visit, well } }) {
    if (visit.fields.left === undefined || visit.fields.outcome !== undefined) return [];
    return [
      {
        subjectKind: 'visit',
        subject: visit.id,
        sentence: `The visit at ${well.fields.name} has no outcome. Say how it ended: sampled, gauged only, dry ...`,
        evidence: [fieldEvidence(visit, 'left'), fieldEvidence(visit, 'outcome')],
      },
    ];
  },
  vectors: [
    { name: 'left', given: { visit: { left: '2026-05-04T11:30:00-05:00' } }, expect: 'raised', says: 'MW-4S' },
    { name: 'still there', given: {}, expect: 'silent' },
    {
      name: 'ended',
      given: { visit: { method: 'gauging', left: '2026-05-04T11:30:00-05:00', outcome: 'gauged-only' } },
      expect: 'silent',
    },
  ],
};
