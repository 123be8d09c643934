import type { PhRule } from '../../../../catalog/analytes/analyte-group.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import type { AskedOfGroup } from '../../asked-of-group.ts';
import { aboutContainer, type Filled, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** A project that asks for another preservative has a range of its own, which nobody told. */
function rangeOf({ group, ordered }: AskedOfGroup): PhRule | undefined {
  return ordered?.preservatives == null ? group.preservation.ph : undefined;
}

function isWithin(ph: number, { below, above, from, to }: PhRule): boolean {
  if (below !== undefined && !(ph < Number(below))) return false;
  if (above !== undefined && !(ph > Number(above))) return false;
  return !(from !== undefined && ph < Number(from)) && !(to !== undefined && ph > Number(to));
}

function isOutside(asked: AskedOfGroup, { fill: { fields } }: Filled): boolean {
  const range = rangeOf(asked);
  return fields.ph !== undefined && range !== undefined && !isWithin(Number(fields.ph), range);
}

function rangeText({ below, above, from, to }: PhRule): string {
  if (below !== undefined) return `below ${below}`;
  if (above !== undefined) return `above ${above}`;
  return `${from} to ${to}`;
}

export const phOutOfRange: SampleRule = {
  code: 'ph-out-of-range',
  title: 'The pH of a preserved container is not what its preservation needs',
  severity: 'caution',
  addressee: 'now',
  source:
    'Cal/EPA (DTSC), Ground Water Sampling guideline, p. 30: checked with a strip; ranges by the group of analytes of the catalog',
  verified: true,
  methods: null,
  evaluate(facts) {
    return filledAgainst(facts, isOutside).flatMap((one) => {
      const range = rangeOf(one.by);
      if (range === undefined) return [];
      return aboutContainer(
        one,
        `${one.container.fields.label}: pH ${one.fill.fields.ph} by strip; ${one.by.group.title} needs ${rangeText(range)}. Add preservative of the same lot and look again, or fill a new one.`,
        [fieldEvidence(one.fill, 'ph')],
      );
    });
  },
  vectors: [
    {
      name: 'metals at pH 3',
      given: {
        containers: [{ group: 'metals-total', type: 'bottle', preservatives: ['nitric-acid'], fill: { ph: '3' } }],
      },
      expect: 'raised',
      says: 'needs below 2',
    },
    {
      name: 'at pH 2, which is not below it',
      given: {
        containers: [{ group: 'metals-total', type: 'bottle', preservatives: ['nitric-acid'], fill: { ph: '2' } }],
      },
      expect: 'raised',
    },
    {
      name: 'at pH 1.5',
      given: {
        containers: [{ group: 'metals-total', type: 'bottle', preservatives: ['nitric-acid'], fill: { ph: '1.5' } }],
      },
      expect: 'silent',
    },
    {
      name: 'cyanide at pH 9',
      given: { containers: [{ group: 'cyanide', type: 'bottle', fill: { ph: '9' } }] },
      expect: 'raised',
      says: 'needs above 10',
    },
    {
      name: 'chromium VI at pH 9.5',
      given: { containers: [{ group: 'chromium-hexavalent', type: 'bottle', fill: { ph: '9.5' } }] },
      expect: 'silent',
    },
    {
      name: 'chromium VI at pH 8',
      given: { containers: [{ group: 'chromium-hexavalent', type: 'bottle', fill: { ph: '8' } }] },
      expect: 'raised',
      says: '9.3 to 9.7',
    },
    {
      name: 'a bottle for hardness at pH 4 that serves metals too',
      given: {
        containers: [{ group: 'of-a-later-release', alsoGroups: ['metals-total'], type: 'bottle', fill: { ph: '4' } }],
      },
      expect: 'raised',
    },
    { name: 'nobody looked', given: {}, expect: 'silent' },
    {
      name: 'looked at again after more acid',
      given: { containers: [{ group: 'metals-total', type: 'bottle', fill: [{ ph: '3' }, { at: '10:38', ph: '1' }] }] },
      expect: 'silent',
    },
  ],
};
