import { describe, expect, it } from 'vitest';
import type { RecordState } from '../../src/protocol/record.ts';
import type { Held } from '../../src/rules/held.ts';
import { Overlay } from '../../src/rules/overlay.ts';
import type { Draft } from '../../src/writes/group.ts';
import { sampleSeeds } from '../../src/writes/samples/sample-seeds.ts';

const SUITE = {
  name: 'VOC',
  groups: [{ group: 'volatiles' }],
  analytes: ['Benzene'],
};

function suite(fields: object, voided: RecordState['voided'] = null): Held {
  const nobody = { by: null, client: null, mutation: null, reason: null, clock: null };
  const state = { kind: 'analyte-suite', id: 'suite-1', rev: 1, voided, ...nobody, fields: { ...SUITE, ...fields } };
  return { state: state as RecordState, feed: 'firm', parent: null, visit: null, memory: null };
}

function seedsOf(held: Held, before: Held | null) {
  const draft: Draft = { held, before, leaves: null, withdrawn: false, intent: null };
  const gathered = { affected: [], events: [] };
  return sampleSeeds({ drafts: [draft], overlay: new Overlay(), gathered } as unknown as Parameters<
    typeof sampleSeeds
  >[0]);
}

describe('a change of an analyte suite', () => {
  it.each([
    ['analytes', suite({ analytes: ['Benzene', 'Toluene'] })],
    ['a remark', suite({ remark: 'By the new price list' })],
    ['the same groups written again', suite({ groups: [{ group: 'volatiles' }] })],
    [
      'how long they keep',
      suite({ groups: [{ group: 'volatiles', holdingHours: '48', reason: 'Hot', approvedBy: 'R.' }] }),
    ],
    ['which of its limits counts', suite({ groups: [{ group: 'volatiles', variant: 'acidified' }] })],
    [
      'its further limits',
      suite({ groups: [{ group: 'volatiles', extractionHours: '48', extractToAnalysisHours: '9' }] }),
    ],
    ['where it goes', suite({ groups: [{ group: 'volatiles', laboratory: 'laboratory-1' }] })],
  ])('has no container judged again for %s', (_what, changed) => {
    expect(seedsOf(changed, suite({}))).toBeNull();
  });

  it.each([
    ['groups', suite({ groups: [{ group: 'volatiles', containers: 2 }] }), [['VOC', 'volatiles']]],
    ['one of its groups', suite({ groups: [{ group: 'volatiles' }, { group: 'nitrate' }] }), [['VOC', 'nitrate']]],
    [
      'its name',
      suite({ name: 'Volatiles' }),
      [
        ['Volatiles', null],
        ['VOC', null],
      ],
    ],
    ['being voided', suite({}, { reason: 'Entered twice', by: null }), [['VOC', null]]],
  ])('has its containers judged again for %s', (_what, changed, asked) => {
    expect(seedsOf(changed, suite({}))?.suites).toEqual(asked.map(([name, group]) => ({ name, group })));
  });

  it('has containers judged that came before it', () => {
    expect(seedsOf(suite({}), null)?.suites).toEqual([{ name: 'VOC', group: null }]);
  });
});
