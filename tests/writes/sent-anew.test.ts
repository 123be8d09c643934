import { describe, expect, it } from 'vitest';
import type { RecordState } from '../../src/protocol/record.ts';
import type { Held } from '../../src/rules/held.ts';
import { sentAnew } from '../../src/writes/samples/sent-anew.ts';

const GROUPS = [{ group: 'volatiles', laboratory: 'lab-a' }, { group: 'nitrate' }];

function suite(fields: object = {}, voided: RecordState['voided'] = null): Held {
  const nobody = { by: null, client: null, mutation: null, reason: null, clock: null };
  const given = { name: 'VOC', groups: GROUPS, ...fields };
  const state = { kind: 'analyte-suite', id: 'suite-1', rev: 1, voided, ...nobody, fields: given };
  return { state: state as RecordState, feed: 'firm', parent: null, visit: null, memory: null };
}

const sent = (held: Held, before: Held | null) =>
  sentAnew({ held, before, leaves: null, withdrawn: false, intent: null });

describe('what a change of an analyte suite sends elsewhere', () => {
  it.each([
    ['a remark', suite({ remark: 'By the new price list' })],
    ['other bottles', suite({ groups: [GROUPS[0], { group: 'nitrate', containers: 2 }] })],
    ['another order of its groups', suite({ groups: GROUPS.toReversed() })],
    ['a laboratory that is said to be none', suite({ groups: [GROUPS[0], { group: 'nitrate', laboratory: null }] })],
  ])('is nothing for %s', (_what, changed) => {
    expect(sent(changed, suite())).toEqual([]);
  });

  it('is the group that goes to another laboratory, or that it no longer orders', () => {
    const to = suite({ groups: [{ group: 'volatiles', laboratory: 'lab-b' }, { group: 'nitrate' }] });
    expect(sent(to, suite())).toEqual([{ suite: 'VOC', group: 'volatiles' }]);
    expect(sent(suite({ groups: [GROUPS[0]] }), suite())).toEqual([{ suite: 'VOC', group: 'nitrate' }]);
  });

  it('is all of it where there is a suite of its name now and was none, or the other way about', () => {
    const all = [{ suite: 'VOC', group: null }];
    expect(sent(suite(), null)).toEqual(all);
    expect(sent(suite({}, { reason: 'Entered twice', by: null }), suite())).toEqual(all);
    expect(sent(suite({ name: 'Volatiles' }), suite())).toEqual([{ suite: 'Volatiles', group: null }, ...all]);
  });
});
