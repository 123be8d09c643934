import { fieldEvidence } from '../../../flags/evidence.ts';
import type { AskedOfGroup } from '../../asked-of-group.ts';
import { aboutContainer, type Filled, filledAgainst } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Somebody says that it is not in it, and nobody says that it was added. */
function isWithout({ preservatives }: AskedOfGroup, { container, fill }: Filled): boolean {
  if (preservatives.length === 0 || fill.fields.preserved === true) return false;
  return fill.fields.preserved === false || container.fields.preservatives?.length === 0;
}

export const preservativeMissing: SampleRule = {
  code: 'preservative-missing',
  title: 'A container is without the preservative that its analytes need',
  severity: 'caution',
  addressee: 'now',
  source:
    'Cal/EPA (DTSC), Ground Water Sampling guideline, p. 30: no sample goes back to the laboratory to be preserved; 40 CFR 136.3, Table II, within 15 minutes of collection, from memory',
  verified: false,
  methods: null,
  evaluate(facts) {
    return filledAgainst(facts, isWithout).map((one) => {
      const choices = one.by.preservatives.map((all) => all.join(' and ')).join(', or ');
      return aboutContainer(
        one,
        `${one.container.fields.label} is without preservative; ${one.by.group.title} needs ${choices.replaceAll('-', ' ')}. Add it within 15 minutes of collection, or fill one that has it.`,
        [fieldEvidence(one.fill, 'preserved'), fieldEvidence(one.container, 'preservatives')],
      );
    });
  },
  vectors: [
    {
      name: 'said not to be in it',
      given: { containers: [{ fill: { preserved: false } }] },
      expect: 'raised',
      says: 'needs hydrochloric acid',
    },
    {
      name: 'a bottle with nothing in it, and nobody added any',
      given: { containers: [{ group: 'metals-total', type: 'bottle', preservatives: [] }] },
      expect: 'raised',
    },
    {
      name: 'added in the field',
      given: { containers: [{ group: 'metals-total', type: 'bottle', preservatives: [], fill: { preserved: true } }] },
      expect: 'silent',
    },
    { name: 'it came with it', given: {}, expect: 'silent' },
    {
      name: 'nothing is known of it',
      given: { containers: [{ group: 'metals-total', type: 'bottle', preservatives: undefined }] },
      expect: 'silent',
    },
    {
      name: 'a bottle for nitrate that serves ammonia too',
      given: { containers: [{ group: 'nitrate', alsoGroups: ['ammonia'], type: 'bottle', preservatives: [] }] },
      expect: 'raised',
      says: 'needs sulfuric acid',
    },
    {
      name: 'nitrate needs none',
      given: { containers: [{ group: 'nitrate', type: 'bottle', preservatives: [], fill: { preserved: false } }] },
      expect: 'silent',
    },
    {
      name: 'the project asks for none',
      given: {
        suite: [{ group: 'volatiles', preservatives: [], reason: 'Carbonate water', approvedBy: 'R. Ito' }],
        containers: [{ preservatives: [], fill: { preserved: false } }],
      },
      expect: 'silent',
    },
  ],
};
