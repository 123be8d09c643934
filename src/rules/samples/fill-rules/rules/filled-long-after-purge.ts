import { SAMPLING_RULES } from '../../../../catalog/analytes/sampling-rules.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { hoursLater, isPurgedDry, purgeEnd, timedFill } from '../fill-times.ts';
import { aboutSample, fillEvidence, filled, labelsAtTimes, perSample } from '../parts.ts';
import type { SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Hours after the purge: US EPA, RCRA Ground-Water Monitoring, Nov 1992, p. 7-19. */
const AFTER_PURGE_H = 2;
/** Hours after the well was pumped dry: sampling plans, county file, doc 600417, page 52, and doc 453809, page 12. */
const AFTER_DRY_H = 24;

function limitOf(facts: SampleFacts): number {
  const planned = facts.plan?.sampleWithinHours;
  if (isPurgedDry(facts)) return Number(planned?.dryWell ?? AFTER_DRY_H);
  return Number(planned?.lowFlow ?? AFTER_PURGE_H);
}

export const filledLongAfterPurge: SampleRule = {
  code: 'filled-long-after-purge',
  title: 'A container was filled too long after the end of the purge',
  severity: 'caution',
  addressee: 'now',
  source: `${SAMPLING_RULES.soonAfterPurge.source}; of a well pumped dry: sampling plans, county file, doc 600417, page 52, and doc 453809, page 12`,
  verified: true,
  methods: ['low-flow', 'volume', 'dry-well'],
  evaluate(facts) {
    const end = purgeEnd(facts);
    if (end === null) return [];
    const hours = limitOf(facts);
    const latest = hoursLater(end, hours);
    return perSample(
      filled(facts).filter(({ fill }) => surelyBefore(latest, timedFill(fill))),
      (sample, its) =>
        aboutSample(
          sample,
          `Filled more than ${hours} h after the purge ended at ${timeOfDay(end.at)}: ${labelsAtTimes(its)}. The water in the casing has changed since: purge anew, or write down why it counts.`,
          [
            ...its.map(({ fill }) => fillEvidence(fill)),
            { record: facts.visit?.id ?? sample.id, shows: `purge ended ${end.at}` },
          ],
        ),
    );
  },
  vectors: [
    {
      name: '2 h 20 min after a low-flow purge',
      given: { containers: [{ at: '12:50' }] },
      expect: 'raised',
      says: 'more than 2 h after the purge ended at 10:30: W-101-1 (12:50)',
    },
    { name: 'two hours to the minute', given: { containers: [{ at: '12:30' }] }, expect: 'silent' },
    { name: 'within two hours', given: { containers: [{ at: '12:29' }] }, expect: 'silent' },
    {
      name: 'the plan allows three',
      given: { plan: { sampleWithinHours: { lowFlow: '3' } }, containers: [{ at: '12:50' }] },
      expect: 'silent',
    },
    {
      name: 'a well purged dry has a day',
      given: { visit: { method: 'dry-well' }, containers: [{ at: '12:50' }] },
      expect: 'silent',
    },
    {
      name: 'but no more than that',
      given: {
        calls: [{ decision: 'purged-dry' }],
        containers: [{ fill: { collected: '2026-05-05T10:45:00-05:00' } }],
      },
      expect: 'raised',
      says: 'more than 24 h',
    },
    {
      name: 'the purge went on until then',
      given: { purges: [{ ended: '2026-05-04T12:45:00-05:00' }], containers: [{ at: '12:50' }] },
      expect: 'silent',
    },
    { name: 'no end is known but the call', given: { purges: [{}], containers: [{ at: '12:50' }] }, expect: 'raised' },
    {
      name: 'filled anew after a second purge',
      given: {
        purges: [{ ended: '2026-05-04T10:30:00-05:00' }, { ended: '2026-05-04T12:40:00-05:00' }],
        containers: [{ at: '12:50' }],
      },
      expect: 'silent',
    },
    {
      name: 'nothing was purged',
      given: { visit: { method: 'passive' }, containers: [{ at: '15:00' }] },
      expect: 'silent',
    },
  ],
};
