import { instantMs } from '../../../../science/instant-ms.ts';
import { fieldEvidence } from '../../../flags/evidence.ts';
import { listText } from '../../../flags/list-text.ts';
import type { Finding } from '../../../flags/raised-flag.ts';
import { namesNumber } from '../../names-number.ts';
import type { SampleRecord } from '../../sample-records.ts';
import { parentOf, typeOf, writtenTime } from '../by-plan.ts';
import { aboutSample } from '../parts.ts';
import type { SampleFacts } from '../sample-facts.ts';
import type { SampleRule } from '../sample-rule.ts';

function isSameTime(blind: SampleRecord, parent: SampleRecord, facts: SampleFacts): boolean {
  const told = writtenTime(blind, facts);
  // what is not told otherwise is made up so that it does not show
  return told !== undefined && instantMs(told) === instantMs(writtenTime(parent, facts) ?? parent.fields.collected);
}

/** How crews write a field duplicate into numbers and labels: common practice, no source. */
const WORDS = /(?<![a-z])(?:dup|fd|duplicate|blind)(?![a-z])/i;

function ofTime(blind: SampleRecord, parent: SampleRecord, facts: SampleFacts): readonly Finding[] {
  if (!isSameTime(blind, parent, facts)) return [];
  return [
    aboutSample(
      blind,
      `The laboratory is told the same time of ${blind.fields.number} and of its parent, and can pair them. Give the blind duplicate another time, not later than it was collected, so that no clock of it runs late.`,
      [fieldEvidence(blind, 'laboratoryTime'), fieldEvidence(parent, 'collected')],
    ),
  ];
}

function numbersOf({ fields }: SampleRecord): readonly string[] {
  return [fields.number, ...(fields.laboratoryNumber == null ? [] : [fields.laboratoryNumber])];
}

/** What a laboratory reads of a blind duplicate: its number, and what stands on its bottles. */
function ofWords(blind: SampleRecord, { samples, containers }: SampleFacts): readonly Finding[] {
  const others = samples.filter(({ id }) => id !== blind.id).flatMap(numbersOf);
  const shows = (text: string) => WORDS.test(text) || others.some((number) => namesNumber(text, number));
  const field = blind.fields.laboratoryNumber == null ? 'number' : 'laboratoryNumber';
  // the plan may tell another number, which is not among these records: the labels have it
  const told = field === 'number' && blind.fields.planned != null ? '' : (blind.fields[field] ?? '');
  const its = containers.filter(({ sample, container }) => sample?.id === blind.id && shows(container.fields.label));
  if (!shows(told) && its.length === 0) return [];
  const texts = [...new Set([...(shows(told) ? [told] : []), ...its.map(({ container }) => container.fields.label)])];
  return [
    aboutSample(
      blind,
      `The laboratory reads ${listText(texts.toSorted())}, which says that ${blind.fields.number} is a duplicate or of which sample. Give it a number and labels that name no other sample and have no DUP or FD in them.`,
      [fieldEvidence(blind, field), ...its.map(({ container }) => fieldEvidence(container, 'label'))],
    ),
  ];
}

const BLIND = { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' } as const;

export const blindDuplicateShows: SampleRule = {
  code: 'blind-duplicate-shows',
  title: 'The label of a blind duplicate shows what it repeats',
  severity: 'question',
  addressee: 'tonight',
  source:
    'Hawaii Department of Health, Technical Guidance Manual, 10.6: the laboratory must not be able to link it; another time on the label',
  verified: true,
  methods: null,
  evaluate(facts) {
    const blind = facts.samples.filter((one) => typeOf(one, facts) === 'blind-duplicate');
    return blind.flatMap((sample) => {
      const parent = facts.samples.find(({ id }) => id === parentOf(sample, facts));
      return [...(parent ? ofTime(sample, parent, facts) : []), ...ofWords(sample, facts)];
    });
  },
  vectors: [
    {
      name: 'the same time, of one that its plan alone calls blind',
      given: {
        samples: [
          { planned: '00000000-0000-7000-8000-000000000901' },
          { planned: '00000000-0000-7000-8000-000000000900', laboratoryTime: '2026-05-04T10:35:00-05:00' },
        ],
        planned: [{ type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000901' }, {}],
      },
      expect: 'raised',
      says: 'can pair them',
    },
    {
      name: 'the same time',
      given: {
        samples: [
          {},
          {
            type: 'blind-duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:35:00-05:00',
          },
        ],
      },
      expect: 'raised',
      says: 'can pair them',
    },
    {
      name: 'another time',
      given: {
        samples: [
          {},
          {
            type: 'blind-duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:15:00-05:00',
          },
        ],
      },
      expect: 'silent',
    },
    {
      name: 'none told: it is made',
      given: { samples: [{}, { type: 'blind-duplicate', of: '00000000-0000-7000-8000-000000000400' }] },
      expect: 'silent',
    },
    {
      name: 'its number is that of its parent with a letter',
      given: { samples: [{}, { ...BLIND, number: 'W-101D' }] },
      expect: 'raised',
      says: 'The laboratory reads W-101D',
    },
    {
      name: 'a label names its parent',
      given: { samples: [{}, BLIND], containers: [{}, { of: 1, label: 'W-101-9' }] },
      expect: 'raised',
      says: 'The laboratory reads W-101-9',
    },
    {
      name: 'a label that says duplicate',
      given: { samples: [{}, BLIND], containers: [{}, { of: 1, label: 'FD-01-1' }] },
      expect: 'raised',
      says: 'FD-01-1',
    },
    {
      name: 'another number is told, and nothing shows',
      given: {
        samples: [{}, { ...BLIND, number: 'W-101D', laboratoryNumber: 'W-1017' }],
        containers: [{}, { of: 1, label: 'W-1017-1' }],
      },
      expect: 'silent',
    },
    {
      name: 'a duplicate that the laboratory may know',
      given: {
        samples: [
          {},
          {
            type: 'duplicate',
            of: '00000000-0000-7000-8000-000000000400',
            laboratoryTime: '2026-05-04T10:35:00-05:00',
          },
        ],
      },
      expect: 'silent',
    },
  ],
};
