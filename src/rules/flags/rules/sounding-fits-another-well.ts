import { whichWell } from '../../identify-well.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { inObservedOrder } from '../facts/observed-order.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';
import type { Evidence } from '../raised-flag.ts';

function depthEvidence(bundle: VisitBundle, other: string | undefined): readonly Evidence[] {
  const wells = [bundle.well, ...bundle.nestWells.filter((one) => one.id === other)];
  return wells.map((one) => fieldEvidence(one, 'totalDepthFt'));
}

const shallow = { name: 'MW-4S', totalDepthFt: '25.3' };
const deep = { name: 'MW-4D', totalDepthFt: '61.8' };

/** However often the wrong well was sounded, it is one mistake and one flag. */
export const soundingFitsAnotherWell: FlagRule = {
  code: 'sounding-fits-another-well',
  title: 'The sounded depth is that of another well of the nest',
  severity: 'stop',
  addressee: 'now',
  source:
    'Comparison with the recorded depths; tape: US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 5 of 13 (state file, doc 975989, page 22); silt allowance: common practice, no source',
  verified: false,
  methods: EVERY_METHOD,
  yieldsTo: [],
  evaluate({ bundle }) {
    const misfits = inObservedOrder(bundle.soundings).flatMap((sounding) => {
      const answer = whichWell({ ...bundle, depthToBottomFt: sounding.fields.depthToBottomFt });
      return answer.fits === 'other' ? [{ sounding, answer }] : [];
    });
    const first = misfits[0];
    if (first === undefined) return [];
    const evidence = misfits.flatMap(({ sounding, answer }) => [
      fieldEvidence(sounding, 'depthToBottomFt'),
      ...depthEvidence(bundle, answer.other),
    ]);
    return [{ subjectKind: 'visit', subject: bundle.visit.id, sentence: first.answer.sentence, evidence }];
  },
  vectors: [
    {
      name: 'the deep well of the nest was sounded',
      given: { well: shallow, nestWells: [deep], soundings: [{ depthToBottomFt: '61.6' }] },
      expect: 'raised',
      says: '61.6 ft is near the depth of MW-4D (61.8 ft) of this nest, not of MW-4S (25.3 ft)',
    },
    {
      name: 'the well itself, a little silted',
      given: { well: shallow, nestWells: [deep], soundings: [{ depthToBottomFt: '24.6' }] },
      expect: 'silent',
    },
    {
      name: 'depths below ground with a known stick-up are converted',
      given: {
        well: { ...shallow, depthsFrom: 'ground', stickUpFt: '2.4' },
        nestWells: [deep],
        soundings: [{ depthToBottomFt: '27.6' }],
      },
      expect: 'silent',
    },
    {
      name: 'a depth below ground without a stick-up is not guessed at',
      given: {
        well: { ...shallow, depthsFrom: 'ground' },
        nestWells: [deep],
        soundings: [{ depthToBottomFt: '61.6' }],
      },
      expect: 'silent',
    },
  ],
};
