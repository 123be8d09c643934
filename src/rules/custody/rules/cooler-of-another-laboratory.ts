import { CUSTODY_RULES } from '../../../catalog/analytes/custody-rules.ts';
import { aboutCooler, type CustodyRule, labelEvidence, labelsText } from '../custody-rule.ts';

const { ownRecordOfSplit } = CUSTODY_RULES;

export const coolerOfAnotherLaboratory: CustodyRule = {
  code: 'cooler-of-another-laboratory',
  title: 'A container is in a cooler that goes to another laboratory',
  severity: 'caution',
  addressee: 'tonight',
  source: ownRecordOfSplit.source,
  verified: ownRecordOfSplit.verified,
  isStored: true,
  find(facts) {
    const { laboratory } = facts.cooler.fields;
    const its = facts.packed.filter((one) => one.laboratory !== null && one.laboratory !== laboratory);
    if (laboratory == null || its.length === 0) return [];
    const one = its.length === 1;
    return aboutCooler(
      facts,
      `It holds ${labelsText(its)}, which ${one ? 'is' : 'are'} for another laboratory than the one it goes to. Pack ${one ? 'it' : 'them'} into a cooler of that laboratory, or say that ${one ? 'it is' : 'they are'} to come here.`,
      labelEvidence(its),
    );
  },
  vectors: [
    {
      name: 'a split',
      given: { cooler: { laboratory: 'lab-a' }, bottles: { a: { laboratory: 'lab-b' }, b: { laboratory: 'lab-a' } } },
      expect: 'It holds a, which is for another laboratory',
    },
    {
      name: 'by the plan',
      given: {
        cooler: { laboratory: 'lab-a' },
        plan: { laboratoryOf: [{ suite: 'PFAS', laboratory: 'lab-b' }] },
        bottles: { a: { more: { suite: 'PFAS' } } },
      },
      expect: 'It holds a, which',
    },
    {
      name: 'by its suite, for its group alone',
      given: {
        cooler: { laboratory: 'lab-a' },
        plan: { laboratoryOf: [{ suite: 'suite', laboratory: 'lab-a' }] },
        suites: { suite: [{ group: 'volatiles' }, { group: 'metals-total', laboratory: 'lab-b' }] },
        bottles: { a: { group: 'metals-total' }, b: {} },
      },
      expect: 'It holds a, which is for another laboratory',
    },
    {
      name: 'by its suite, whatever the plan has for the rest of it',
      given: {
        cooler: { laboratory: 'lab-a' },
        plan: { laboratoryOf: [{ suite: 'suite', laboratory: 'lab-b' }] },
        suites: { suite: [{ group: 'volatiles', laboratory: 'lab-a' }] },
        bottles: { a: {}, b: { more: { suite: 'suite' } } },
      },
      expect: null,
    },
    {
      name: 'its own',
      given: { cooler: { laboratory: 'lab-a' }, bottles: { a: { laboratory: 'lab-a' } } },
      expect: null,
    },
    { name: 'nothing is said', given: { cooler: { laboratory: 'lab-a' }, bottles: { a: {} } }, expect: null },
    { name: 'a cooler without a laboratory', given: { bottles: { a: { laboratory: 'lab-b' } } }, expect: null },
  ],
};
