import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import type { AskedOfGroup } from '../../asked-of-group.ts';
import type { ContainerRecord } from '../../sample-records.ts';
import { aboutContainer } from '../parts.ts';
import type { SampleRule } from '../sample-rule.ts';

/** HDPE is polyethylene; which polyethylene an order means is not always said. */
function isOf(material: string, asked: readonly string[]): boolean {
  return asked.includes(material) || (material === 'hdpe' && asked.includes('polyethylene'));
}

interface Wrong {
  readonly field: 'type' | 'material' | 'colour';
  readonly text: string;
}

function wrongs({ fields: { type, material, colour } }: ContainerRecord, asked: AskedOfGroup): readonly Wrong[] {
  const found: Wrong[] = [];
  if (type !== asked.kind) found.push({ field: 'type', text: `a ${type}, not a ${asked.kind}` });
  if (material !== undefined && !isOf(material, asked.materials))
    found.push({ field: 'material', text: `of ${material}, not of ${asked.materials.join(' or ')}` });
  if (colour === 'clear' && asked.colour === 'amber') found.push({ field: 'colour', text: 'clear, not amber' });
  return found;
}

export const wrongContainer: SampleRule = {
  code: 'wrong-container',
  title: 'A container is not one that its analytes may have',
  severity: 'caution',
  addressee: 'now',
  source: '40 CFR 136.3, Table II, and the order of the project, by the group of analytes of the catalog',
  verified: true,
  methods: null,
  evaluate(facts) {
    return facts.containers.flatMap((one) => {
      const by = one.isFull ? one.served.find((asked) => wrongs(one.container, asked).length > 0) : undefined;
      if (!by) return [];
      const its = wrongs(one.container, by);
      return aboutContainer(
        one,
        `${one.container.fields.label} for ${by.group.title} is ${listText(its.map(({ text }) => text))}. Fill the right container, and discard this one.`,
        its.map(({ field }) => fieldEvidence(one.container, field)),
      );
    });
  },
  vectors: [
    {
      name: 'a plastic bottle for volatiles',
      given: { containers: [{ type: 'bottle', material: 'polyethylene' }] },
      expect: 'raised',
      says: 'a bottle, not a vial and of polyethylene, not of glass',
    },
    {
      name: 'clear glass for semivolatiles',
      given: { containers: [{ group: 'semivolatiles', type: 'bottle', colour: 'clear' }] },
      expect: 'raised',
      says: 'clear, not amber',
    },
    {
      name: 'amber glass',
      given: { containers: [{ group: 'semivolatiles', type: 'bottle', colour: 'amber' }] },
      expect: 'silent',
    },
    {
      name: 'glass for fluoride',
      given: { containers: [{ group: 'fluoride', type: 'bottle', material: 'glass' }] },
      expect: 'raised',
    },
    {
      name: 'HDPE where polyethylene is asked for',
      given: { containers: [{ group: 'fluoride', type: 'bottle', material: 'hdpe' }] },
      expect: 'silent',
    },
    {
      name: 'fluoropolymer for PFAS',
      given: { containers: [{ group: 'pfas-1633', type: 'bottle', material: 'fluoropolymer' }] },
      expect: 'raised',
    },
    {
      name: 'glass for nitrate, which serves fluoride too',
      given: { containers: [{ group: 'nitrate', alsoGroups: ['fluoride'], type: 'bottle', material: 'glass' }] },
      expect: 'raised',
      says: 'of glass, not of polyethylene',
    },
    { name: 'a vial of glass', given: {}, expect: 'silent' },
    {
      name: 'not filled',
      given: { containers: [{ standing: 'expected', fill: null, type: 'bottle' }] },
      expect: 'silent',
    },
    {
      name: 'a project asks for bottles',
      given: {
        suite: [{ group: 'volatiles', container: 'bottle', reason: 'A large vial', approvedBy: 'R. Ito' }],
        containers: [{ type: 'bottle' }],
      },
      expect: 'silent',
    },
    {
      name: 'a group that the catalog does not hold',
      given: { containers: [{ group: 'of-a-later-release', type: 'bottle' }] },
      expect: 'silent',
    },
  ],
};
