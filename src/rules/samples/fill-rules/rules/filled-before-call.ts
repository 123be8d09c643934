import { fieldEvidence } from '../../../flags/evidence.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { isCalledBy, isPurgedDry, purgeEnd, timedFill, timedSample } from '../fill-times.ts';
import { aboutSample, fillEvidence, filled, labelsAtTimes, perSample } from '../parts.ts';
import type { SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Of a volume that was purged the end says that it is done, call or no call. */
function isDone(facts: SampleFacts, time: ReturnType<typeof timedFill>): boolean {
  if (isCalledBy(facts, time)) return true;
  const end = facts.visit?.fields.method === 'volume' ? purgeEnd(facts) : null;
  return end !== null && !surelyBefore(time, end);
}

export const filledBeforeCall: SampleRule = {
  code: 'filled-before-call',
  title: 'A container was filled before the purge was called stable or done',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: bottles are filled only after the stabilization call, or the volume purged',
  verified: false,
  methods: ['low-flow', 'volume'],
  evaluate(facts) {
    if (isPurgedDry(facts)) return [];
    // where the time of the sample itself says so, the rule about the visit asks it
    const isAsked = facts.visit?.fields.method === 'low-flow';
    const early = filled(facts).filter(({ sample, fill }) => {
      if (sample === null || isDone(facts, timedFill(fill))) return false;
      return !isAsked || isDone(facts, timedSample(sample));
    });
    return perSample(early, (sample, its) =>
      aboutSample(
        sample,
        `Filled before a call or the end of the purge: ${labelsAtTimes(its)}. Record the call, correct the time, or fill them again.`,
        [
          ...its.map(({ fill }) => fillEvidence(fill)),
          ...facts.calls.map((call) => ({ record: call.id, field: 'observed', shows: call.fields.observed.at })),
          ...facts.purges.map((purge) => fieldEvidence(purge, 'ended')),
        ],
      ),
    );
  },
  vectors: [
    {
      name: 'a vial five minutes before the call',
      given: { containers: [{}, { at: '10:25' }] },
      expect: 'raised',
      says: 'W-101-2 (10:25)',
    },
    { name: 'all after the call', given: { containers: [{}, { at: '10:40' }] }, expect: 'silent' },
    { name: 'in the minute of the call', given: { containers: [{ at: '10:30' }] }, expect: 'silent' },
    {
      name: 'the last call said to purge on',
      given: {
        calls: [{ at: '10:20' }, { at: '10:34', decision: 'purging-continued' }],
        samples: [{ at: '10:21' }],
        containers: [{ at: '10:36' }],
      },
      expect: 'raised',
    },
    {
      name: 'the time of the sample itself is before the call: the visit is asked',
      given: { samples: [{ at: '10:20' }], containers: [{ at: '10:20' }] },
      expect: 'silent',
    },
    {
      name: 'a volume whose purge had ended needs no call',
      given: { visit: { method: 'volume' }, calls: [] },
      expect: 'silent',
    },
    {
      name: 'a volume that was still being purged',
      given: { visit: { method: 'volume' }, calls: [], purges: [{ ended: '2026-05-04T10:50:00-05:00' }] },
      expect: 'raised',
    },
    {
      name: 'a well that was purged dry',
      given: { visit: { outcome: 'purged-dry' }, calls: [], containers: [{ at: '16:00' }] },
      expect: 'silent',
    },
    { name: 'a passive sampler', given: { visit: { method: 'passive' }, calls: [], purges: [] }, expect: 'silent' },
    {
      name: 'a vial that was thrown away',
      given: { containers: [{}, { at: '10:25', standing: 'discarded' }] },
      expect: 'silent',
    },
    {
      name: 'filled again after the call',
      given: { containers: [{ fill: [{ at: '10:25' }, { at: '10:36' }] }] },
      expect: 'silent',
    },
  ],
};
