import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { measuredLevels } from '../facts/measured-levels.ts';
import type { FlagRule } from '../flag-rule.ts';
import type { Evidence } from '../raised-flag.ts';

function flowing(bundle: VisitBundle): readonly Evidence[] {
  return bundle.levels
    .filter((level) => level.fields.state === 'flowing')
    .map((level) => fieldEvidence(level, 'state'));
}

export const waterAboveMeasuringPoint: FlagRule = {
  code: 'water-above-measuring-point',
  title: 'Water stands above the measuring point or flows, in a well not known to flow',
  severity: 'question',
  addressee: 'now',
  source: 'Plain physics: a depth below the measuring point is negative only where water stands above it',
  verified: true,
  methods: ['low-flow', 'volume', 'dry-well', 'passive', 'gauging'],
  yieldsTo: [],
  evaluate({ bundle }) {
    const { name, knownToFlow } = bundle.well.fields;
    if (knownToFlow) return [];
    const above = measuredLevels(bundle).filter((level) => level.millionthsFt < 0);
    const evidence = [...above.map((level) => level.evidence), ...flowing(bundle)];
    if (evidence.length === 0) return [];
    const found = above[0] ? `${above[0].depthFt} ft puts the water above the measuring point of` : 'Water flows from';
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `${found} ${name}, which is not known to flow. Measure again, or say in a remark that it flows.`,
        evidence: [...evidence, fieldEvidence(bundle.well, 'knownToFlow')],
      },
    ];
  },
  vectors: [
    {
      name: 'a negative depth',
      given: { levels: [{ depthToWaterFt: '-1.20' }] },
      expect: 'raised',
      says: '-1.20 ft puts the water above the measuring point of MW-4S',
    },
    { name: 'flowing, not known to', given: { levels: [{ state: 'flowing' }] }, expect: 'raised', says: 'Water flows' },
    {
      name: 'a well known to flow',
      given: { well: { knownToFlow: true }, levels: [{ state: 'flowing' }, { depthToWaterFt: '-1.20' }] },
      expect: 'silent',
    },
    {
      name: 'a visit by the method for flowing wells',
      given: { visit: { method: 'flowing' }, levels: [{ state: 'flowing' }] },
      expect: 'silent',
    },
    { name: 'water at the measuring point', given: { levels: [{ depthToWaterFt: '0.00' }] }, expect: 'silent' },
  ],
};
