import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ANALYTE_GROUPS, analyteGroup } from '../../../src/catalog/analytes/analyte-groups.ts';
import {
  DEFAULT_FILL_ORDER,
  FILL_ORDER_IDS,
  FILL_ORDERS,
  inFillOrder,
  PFAS_PLACES,
} from '../../../src/catalog/analytes/fill-orders.ts';

const groups = [
  'nitrate',
  'metals-total',
  'pfas-1633',
  'semivolatiles',
  'dissolved-gases',
  'radionuclides',
  'metals-dissolved',
  'volatiles',
  'sulfate',
].flatMap((id) => analyteGroup(id) ?? []);
const line = (...given: Parameters<typeof inFillOrder>) =>
  inFillOrder(...given).map(({ group, place, isNamed }) => `${place} ${group.id}${isNamed ? '' : ' (not named)'}`);

describe('the order within a well', () => {
  it('by US EPA 1992, p. 7-18: by volatility, PFAS first', () => {
    expect(line(groups, 'epa-1992', 'first')).toEqual([
      '1 pfas-1633',
      '2 volatiles',
      '3 dissolved-gases',
      '4 semivolatiles',
      '5 metals-total',
      '5 metals-dissolved',
      '6 sulfate',
      '7 radionuclides',
      '8 nitrate (not named)',
    ]);
  });

  it('by a state solid-waste rule: filtered samples before large volumes, PFAS after volatiles', () => {
    expect(line(groups, 'state-solid-waste-rule', 'after-volatiles')).toEqual([
      '1 volatiles',
      '2 pfas-1633',
      '5 metals-dissolved',
      '6 semivolatiles',
      '7 metals-total',
      '8 nitrate',
      '8 sulfate',
      '9 dissolved-gases (not named)',
      '9 radionuclides (not named)',
    ]);
  });

  it('by the USGS field manual, 5.0.2: volatiles, filtered trace elements, nutrients and ions', () => {
    expect(line(groups, 'usgs-field-manual', 'after-volatiles').slice(0, 5)).toEqual([
      '1 volatiles',
      '2 pfas-1633',
      '3 metals-dissolved',
      '4 nitrate',
      '4 sulfate',
    ]);
  });

  it('radionuclides last in the list of 1992 are recalled, the rest was read', () => {
    expect(FILL_ORDERS['epa-1992'].steps.map(({ verified }) => verified)).toEqual([
      true,
      true,
      true,
      true,
      true,
      false,
    ]);
    expect(DEFAULT_FILL_ORDER).toBe('epa-1992');
  });

  it('keeps every group once, is the same for any order of what is given up to equal places, and volatiles never come after metals', () => {
    fc.assert(
      fc.property(
        fc.shuffledSubarray([...ANALYTE_GROUPS]),
        fc.constantFrom(...FILL_ORDER_IDS),
        fc.constantFrom(...PFAS_PLACES),
        (some, id, pfas) => {
          const placed = inFillOrder(some, id, pfas);
          expect(placed.map(({ group }) => group.id).toSorted()).toEqual(some.map((group) => group.id).toSorted());
          const places = placed.map(({ place }) => place);
          expect(places).toEqual(places.toSorted((a, b) => a - b));
          const again = new Map(inFillOrder(some.toReversed(), id, pfas).map(({ group, place }) => [group.id, place]));
          for (const { group, place } of placed) expect(again.get(group.id)).toBe(place);
          const of = (fillClass: string) =>
            placed.filter(({ group }) => group.filling.fillClass === fillClass).map(({ place }) => place);
          for (const volatile of of('volatiles'))
            for (const metal of [...of('metals'), ...of('filtered-metals')]) expect(volatile).toBeLessThan(metal);
        },
      ),
    );
  });
});
