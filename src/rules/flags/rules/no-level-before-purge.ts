import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { observedMs, timeOfDay } from '../facts/observed-order.ts';
import type { FlagRule } from '../flag-rule.ts';

type Purge = VisitBundle['purges'][number]['purge'];

function firstPurge(bundle: VisitBundle): Purge | undefined {
  const began = (purge: Purge) => Date.parse(purge.fields.began);
  return bundle.purges.map((one) => one.purge).toSorted((a, b) => began(a) - began(b) || (a.id < b.id ? -1 : 1))[0];
}

/** A level of a synoptic round in this visit serves too; so does a record of why none could be measured. */
function levelBefore(bundle: VisitBundle, began: string): boolean {
  return bundle.levels.some(
    (level) =>
      level.fields.purpose === 'before-purge' ||
      (level.fields.purpose === 'synoptic' && observedMs(level) <= Date.parse(began)),
  );
}

export const noLevelBeforePurge: FlagRule = {
  code: 'no-level-before-purge',
  title: 'The well was purged without a water level before it',
  severity: 'question',
  addressee: 'tonight',
  source:
    'US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 6 of 13 (state file, doc 504322, page 22): drawdown is counted from the level before pumping',
  verified: true,
  methods: ['low-flow'],
  yieldsTo: [],
  evaluate({ bundle }) {
    const purge = firstPurge(bundle);
    if (purge === undefined || levelBefore(bundle, purge.fields.began)) return [];
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `The purge of ${bundle.well.fields.name} began at ${timeOfDay(purge.fields.began)} and no water level before it is recorded, so its drawdown cannot be told. Record the level if it was measured.`,
        evidence: [fieldEvidence(purge, 'began')],
      },
    ];
  },
  vectors: [
    { name: 'no level', given: { readings: [{}] }, expect: 'raised', says: 'began at 10:00' },
    {
      name: 'a pumping level is not it',
      given: { readings: [{}], levels: [{ purpose: 'pumping', depthToWaterFt: '12.30' }] },
      expect: 'raised',
    },
    {
      name: 'measured before',
      given: { readings: [{}], levels: [{ at: '09:45', depthToWaterFt: '12.00' }] },
      expect: 'silent',
    },
    {
      name: 'measured in a synoptic round before it',
      given: { readings: [{}], levels: [{ at: '09:45', purpose: 'synoptic', depthToWaterFt: '12.00' }] },
      expect: 'silent',
    },
    {
      name: 'measured in a synoptic round in the minute of the first water',
      given: { readings: [{}], levels: [{ at: '10:00', purpose: 'synoptic', depthToWaterFt: '12.00' }] },
      expect: 'silent',
    },
    {
      name: 'a synoptic level of a well that is being pumped',
      given: { readings: [{}], levels: [{ at: '10:01', purpose: 'synoptic', depthToWaterFt: '12.60' }] },
      expect: 'raised',
    },
    { name: 'no purge', given: {}, expect: 'silent' },
    { name: 'a volume purge', given: { visit: { method: 'volume' }, readings: [{}] }, expect: 'silent' },
  ],
};
