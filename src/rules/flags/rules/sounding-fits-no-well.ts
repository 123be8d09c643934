import { type WellAnswer, whichWell } from '../../identify-well.ts';
import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { inObservedOrder } from '../facts/observed-order.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';

/** The crew has said why the tape stopped short. */
function obstructed({ visit, levels }: VisitBundle): boolean {
  const states = levels.map((level) => level.fields.state);
  return visit.fields.outcome === 'obstructed' || states.includes('obstructed') || states.includes('frozen');
}

function asks(bundle: VisitBundle, answer: WellAnswer): boolean {
  return answer.fits === 'none' && !(answer.misses === 'shallower' && obstructed(bundle));
}

const well = { name: 'MW-4S', totalDepthFt: '25.3' };

export const soundingFitsNoWell: FlagRule = {
  code: 'sounding-fits-no-well',
  title: 'The sounded depth fits neither this well nor another of its nest',
  severity: 'question',
  addressee: 'now',
  source:
    'Comparison with the recorded depth, which silt can only make shallower; tape: US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 5 of 13 (state file, doc 975989, page 22); silt allowance: common practice, no source',
  verified: false,
  methods: EVERY_METHOD,
  yieldsTo: ['sounding-fits-another-well'],
  evaluate({ bundle }) {
    const misfits = inObservedOrder(bundle.soundings).flatMap((sounding) => {
      const answer = whichWell({ ...bundle, depthToBottomFt: sounding.fields.depthToBottomFt });
      return asks(bundle, answer) ? [{ sounding, answer }] : [];
    });
    const first = misfits[0];
    if (first === undefined) return [];
    const evidence = [
      ...misfits.map(({ sounding }) => fieldEvidence(sounding, 'depthToBottomFt')),
      fieldEvidence(bundle.well, 'totalDepthFt'),
    ];
    return [{ subjectKind: 'visit', subject: bundle.visit.id, sentence: first.answer.sentence, evidence }];
  },
  vectors: [
    {
      name: 'deeper than recorded, which is never silt',
      given: { well, soundings: [{ depthToBottomFt: '29.4' }] },
      expect: 'raised',
      says: '4.1 ft deeper than MW-4S (25.3 ft), which silt cannot explain',
    },
    {
      name: 'deeper by no more than the tape may be off',
      given: { well, soundings: [{ depthToBottomFt: '25.6' }] },
      expect: 'silent',
    },
    {
      name: 'much shallower',
      given: { well, soundings: [{ depthToBottomFt: '16.0' }] },
      expect: 'raised',
      says: 'silt, an obstruction or another well',
    },
    {
      name: 'much shallower in a well found obstructed',
      given: { well, visit: { outcome: 'obstructed' }, soundings: [{ depthToBottomFt: '16.0' }] },
      expect: 'silent',
    },
  ],
};
