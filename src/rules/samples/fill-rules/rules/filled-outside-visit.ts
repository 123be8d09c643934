import { fieldEvidence } from '../../../flags/evidence.ts';
import { timeOfDay } from '../../../flags/facts/observed-order.ts';
import { surelyBefore } from '../../../flags/facts/surely-before.ts';
import { timed, timedFill } from '../fill-times.ts';
import { aboutSample, fillEvidence, filled, labelsAtTimes, perSample } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

export const filledOutsideVisit: SampleRule = {
  code: 'filled-outside-visit',
  title: 'A container was filled before its crew arrived or after it left',
  severity: 'question',
  addressee: 'now',
  source: 'Arithmetic of the records: a sample is taken while somebody is at the well',
  verified: true,
  methods: null,
  evaluate(facts) {
    const { visit } = facts;
    if (visit === null) return [];
    const { arrived, left } = visit.fields;
    const outside = filled(facts).filter(({ fill }) => {
      if (surelyBefore(timed(fill, fill.fields.collected), timed(visit, arrived))) return true;
      return left !== undefined && surelyBefore(timed(visit, left), timedFill(fill));
    });
    const span =
      left === undefined
        ? `arrived at ${timeOfDay(arrived)}`
        : `was there from ${timeOfDay(arrived)} to ${timeOfDay(left)}`;
    return perSample(outside, (sample, its) =>
      aboutSample(
        sample,
        `The crew ${span}; filled at another time: ${labelsAtTimes(its, arrived)}. Correct the time that is wrong.`,
        [...its.map(({ fill }) => fillEvidence(fill)), fieldEvidence(visit, 'arrived'), fieldEvidence(visit, 'left')],
      ),
    );
  },
  vectors: [
    {
      name: 'before the crew came',
      given: { containers: [{ at: '09:10' }] },
      expect: 'raised',
      says: 'arrived at 09:30; filled at another time: W-101-1 (09:10)',
    },
    {
      name: 'after it left',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{ at: '11:20' }] },
      expect: 'raised',
    },
    {
      name: 'on another day, told with its date and by the clock of the visit',
      given: {
        visit: { left: '2026-05-04T11:00:00-05:00' },
        containers: [{ fill: { collected: '2026-11-27T02:35:00Z' } }],
      },
      expect: 'raised',
      says: 'filled at another time: W-101-1 (2026-11-26 21:35)',
    },
    {
      name: 'in the minute in which it left',
      given: { visit: { left: '2026-05-04T11:00:00-05:00' }, containers: [{ at: '11:00' }] },
      expect: 'silent',
    },
    { name: 'while it was there', given: { visit: { left: '2026-05-04T11:00:00-05:00' } }, expect: 'silent' },
    { name: 'of a blank, at no visit', given: { visit: null, containers: [{ at: '09:10' }] }, expect: 'silent' },
  ],
};
