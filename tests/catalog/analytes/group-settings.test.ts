import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ANALYTE_GROUPS, analyteGroup } from '../../../src/catalog/analytes/analyte-groups.ts';
import {
  documentSettings,
  type ProjectOverride,
  resolveSettings,
} from '../../../src/catalog/analytes/group-settings.ts';
import { holdingOf, holdingVariant } from '../../../src/catalog/analytes/holding-of.ts';

function group(id: string) {
  const found = analyteGroup(id);
  if (!found) throw new Error(`no group ${id}`);
  return found;
}

const programme = {
  source: 'sampling manual of a programme, 2024',
  verified: true,
  settings: { containerCount: 2, holdingVariant: 'table-ii' },
};
const approved = { reason: 'the laboratory asks for it', approvedBy: 'quality officer' };

describe('documents, programme, project', () => {
  it.each(ANALYTE_GROUPS.map((one) => [one.id, one] as const))('%s: without others, its documents hold', (_id, one) => {
    const { settings, notApplied } = resolveSettings(one, null, []);
    expect(settings).toEqual(documentSettings(one));
    expect(notApplied).toEqual([]);
    expect(settings.holdingLimits).toMatchObject({
      value: one.holding[0]?.limits,
      layer: 'regulation',
      source: one.holding[0]?.source,
    });
  });

  it('a programme stands over the documents, and its list brings its limits', () => {
    const { settings } = resolveSettings(group('polychlorinated-biphenyls'), programme, []);
    expect(settings.containerCount).toEqual({ value: 2, layer: 'programme', source: programme.source, verified: true });
    expect(settings.holdingLimits.layer).toBe('programme');
    expect(settings.holdingLimits.value.map(({ written }) => written)).toEqual(['365 d', '365 d']);
    expect(settings.materials.layer).toBe('regulation');
  });

  it('a project stands over both, with its reason and who approved', () => {
    const override: ProjectOverride = { setting: 'containerCount', value: 4, ...approved };
    const { settings } = resolveSettings(group('polychlorinated-biphenyls'), programme, [override]);
    expect(settings.containerCount).toMatchObject({ value: 4, layer: 'project', ...approved });
  });

  it('without a reason or an approver it is not applied, and that is told', () => {
    const answer = resolveSettings(group('volatiles'), null, [
      { setting: 'containerCount', value: 1, reason: ' ', approvedBy: 'quality officer' },
      { setting: 'coolToAtMostC', value: '10', reason: 'no ice', approvedBy: '' },
      { setting: 'holdingVariant', value: 'none-such', ...approved },
    ]);
    expect(answer.settings).toEqual(documentSettings(group('volatiles')));
    expect(answer.notApplied).toEqual([
      { layer: 'project', setting: 'holdingVariant', because: 'no-such-variant' },
      { layer: 'project', setting: 'containerCount', because: 'no-reason' },
      { layer: 'project', setting: 'coolToAtMostC', because: 'no-approver' },
    ]);
    expect(resolveSettings(group('volatiles'), programme, []).notApplied).toEqual([
      { layer: 'programme', setting: 'holdingVariant', because: 'no-such-variant' },
    ]);
  });

  it('limits that are given beside a variant hold, whichever comes first', () => {
    const limits = [{ clock: 'collection-to-analysis', written: '5 d', minutes: 7_200 }] as const;
    const both: ProjectOverride[] = [
      { setting: 'holdingLimits', value: limits, ...approved },
      { setting: 'holdingVariant', value: 'not-acidified', ...approved },
    ];
    for (const overrides of [both, both.toReversed()]) {
      const { settings } = resolveSettings(group('volatiles'), null, overrides);
      expect([settings.holdingVariant.value, settings.holdingLimits.value]).toEqual(['not-acidified', limits]);
    }
  });

  it('of several overrides the last holds, and no other setting changes', () => {
    fc.assert(
      fc.property(fc.constantFrom(...ANALYTE_GROUPS), fc.array(fc.nat(9), { minLength: 1 }), (one, counts) => {
        const overrides = counts.map((value): ProjectOverride => ({ setting: 'leastCount', value, ...approved }));
        const { leastCount, ...others } = resolveSettings(one, null, overrides).settings;
        expect(leastCount.value).toBe(counts.at(-1));
        const { leastCount: _, ...documents } = documentSettings(one);
        expect(others).toEqual(documents);
      }),
    );
  });
});

describe('the holding time of a container as it was kept', () => {
  const kept = { isPreserved: true, isInterferenceLeft: false, isFrozen: false };
  it.each([
    ['volatiles', kept, 'as-prescribed'],
    ['volatiles', { ...kept, isPreserved: false }, 'not-acidified'],
    ['volatiles-unpreserved', { ...kept, isPreserved: false }, 'as-prescribed'],
    ['chromium-hexavalent', { ...kept, isPreserved: false }, 'not-buffered'],
    ['cyanide', { ...kept, isInterferenceLeft: true }, 'sulfide-present'],
    ['nitrate', { ...kept, isInterferenceLeft: true }, 'as-prescribed'],
    ['pfas-1633', { ...kept, isFrozen: true }, 'frozen'],
    ['cyanide', { ...kept, isPreserved: false }, undefined],
    ['volatiles', { ...kept, isFrozen: true }, undefined],
  ] as const)('%s, %j: %s', (id, how, variant) => {
    expect(holdingOf(group(id), how)?.id).toBe(variant);
  });

  it('is found by its name, as records cite it', () => {
    expect(holdingVariant(group('polychlorinated-biphenyls'), 'table-ii')?.condition).toBe('other-list');
    expect(holdingVariant(group('nitrate'), 'table-ii')).toBeUndefined();
  });
});
