import { fieldEvidence } from '../../../flags/evidence.ts';
import { aboutContainer, type Filled, filled } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** Somebody says that it is not in it, and nobody says that it was added. */
function isWithout({ asked, container, fill }: Filled): boolean {
  if (!asked || asked.preservatives.length === 0 || fill.fields.preserved === true) return false;
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
    return filled(facts)
      .filter(isWithout)
      .map((one) => {
        const choices = one.asked?.preservatives.map((all) => all.join(' and ')).join(', or ') ?? '';
        return aboutContainer(
          one,
          `${one.container.fields.label} is without preservative; ${one.asked?.group.title} needs ${choices.replaceAll('-', ' ')}. Add it within 15 minutes of collection, or fill one that has it.`,
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
