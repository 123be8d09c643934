import { z } from 'zod';
import { identifyByEvidence, type WellIdentity } from '../well-identity/identify-by-evidence.ts';
import { answered } from './answered.ts';
import { answerFields, defineQuestion } from './question.ts';
import { candidate, identityInput } from './well-identity/identity-input.ts';

const SOURCES = [
  'Depth: US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 5 of 13, for the tape; USGS Pacific Islands, errors of synoptic surveys, for its stretch',
  'Silt up to 2 ft, casing within a tenth, stick-up within 0.5 ft, water within its range and 2 ft: common practice, no source',
];

function conclusion({ fits, could }: WellIdentity, supposed: string): string {
  const names = could.map((one) => one.well.fields.name).join(', ');
  switch (fits) {
    case 'this':
      return `What was measured fits ${supposed}, and no other well as well.`;
    case 'other':
      return `What was measured fits ${names}, not ${supposed}. Read the tag on the casing before the pump goes in.`;
    case 'undecided':
      return `What was measured fits ${names} alike. Read the tag on the casing, or measure what tells them apart.`;
    case 'none':
      return `What was measured fits neither ${supposed} nor another of these wells. Read the tag on the casing and measure again.`;
    case 'unknown':
      return `Nothing that was measured can be compared with what is recorded of ${supposed}. Read the tag on the casing.`;
  }
}

export const wellIdentity = defineQuestion({
  name: 'well-identity',
  title: 'Which well is this?',
  description:
    'Which well stands before the crew, from all that was measured: the sounded bottom, the casing, the stick-up and the water, against the records of the supposed well and of those that it could be. Depth and casing can contradict; stick-up and water only make doubtful. The tag on the casing decides.',
  sources: SOURCES,
  input: identityInput,
  output: z.strictObject({
    fits: z
      .enum(['this', 'other', 'undecided', 'none', 'unknown'])
      .describe('The supposed well, another one, several, none, or nothing to compare'),
    couldBe: z.array(z.string()).describe('Names of the wells that it can be'),
    wells: z
      .array(
        z.strictObject({
          well: z.string(),
          stands: z.enum(['fits', 'doubtful', 'contradicted', 'unknown']),
          evidence: z.array(
            z.strictObject({
              kind: z.enum(['depth', 'casing', 'stick-up', 'water-level']),
              finding: z.enum(['agrees', 'contradicts', 'doubts', 'unknown']),
              sentence: z.string(),
            }),
          ),
        }),
      )
      .describe('Each well with what speaks for and against it'),
    ...answerFields,
  }),
  answer({ supposed, others, ...measured }) {
    const own = candidate(supposed, 0);
    const identity = identifyByEvidence(
      own,
      others.map((one, place) => candidate(one, place + 1)),
      measured,
    );
    const cautions =
      identity.fits === 'this' ? [] : ['A pump in the wrong well of a nest is a sample of the wrong water.'];
    return {
      fits: identity.fits,
      couldBe: identity.could.map((one) => one.well.fields.name),
      wells: identity.weighed.map((one) => ({
        well: one.well.fields.name,
        stands: one.stands,
        evidence: one.evidence.map((piece) => ({ ...piece })),
      })),
      ...answered([conclusion(identity, supposed.name)], SOURCES, cautions),
    };
  },
});
