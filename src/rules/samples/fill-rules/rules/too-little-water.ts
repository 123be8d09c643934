import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import { aboutContainer, leastMl } from '../parts.ts';
import type { ContainerFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Nobody says otherwise: it is full. */
function waterMl({ container, fill }: ContainerFacts): string {
  return fill?.fields.volumeMl ?? container.fields.volumeMl;
}

export const tooLittleWater: SampleRule = {
  code: 'too-little-water',
  title: 'A container holds less water than its analytes can be analysed in',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: the least usable volume of the catalog; the laboratory decides',
  verified: false,
  methods: null,
  evaluate(facts) {
    return facts.containers
      .filter((one) => one.isFull && Number(waterMl(one)) < leastMl(one))
      .map((one) =>
        aboutContainer(
          one,
          `${one.container.fields.label} holds ${waterMl(one)} mL; ${listText(one.served.map(({ group }) => group.title))} ${one.served.length > 1 ? 'together need' : 'needs'} ${leastMl(one)} mL at least. Fill it up, or drop it and say who agreed.`,
          [
            fieldEvidence(one.container, 'volumeMl'),
            ...(one.fill === null ? [] : [fieldEvidence(one.fill, 'volumeMl')]),
          ],
        ),
      );
  },
  vectors: [
    {
      name: 'half a vial',
      given: { containers: [{ fill: { volumeMl: '20' } }] },
      expect: 'raised',
      says: 'holds 20 mL',
    },
    { name: 'a vial that takes less', given: { containers: [{ volumeMl: '22' }] }, expect: 'raised' },
    {
      name: 'enough for each of the groups that it serves, and not for all of them',
      given: {
        containers: [
          {
            ...{ group: 'nitrate', alsoGroups: ['alkalinity', 'dissolved-solids'], type: 'bottle', volumeMl: '500' },
            fill: { volumeMl: '110' },
          },
        ],
      },
      expect: 'raised',
      says: 'together need',
    },
    {
      name: 'enough for all of them',
      given: {
        containers: [
          { group: 'nitrate', alsoGroups: ['alkalinity', 'dissolved-solids'], type: 'bottle', volumeMl: '500' },
        ],
      },
      expect: 'silent',
    },
    { name: 'a full vial', given: {}, expect: 'silent' },
    { name: 'dropped', given: { containers: [{ standing: 'dropped', volumeMl: '22', fill: null }] }, expect: 'silent' },
    {
      name: 'a project takes small vials',
      given: {
        suite: [{ group: 'volatiles', volumeMl: '20', reason: 'By the laboratory', approvedBy: 'R. Ito' }],
        containers: [{ volumeMl: '20' }],
      },
      expect: 'silent',
    },
  ],
};
