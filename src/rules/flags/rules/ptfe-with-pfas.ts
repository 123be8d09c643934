import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence } from '../evidence.ts';
import { setUpAt } from '../facts/intake.ts';
import { type WettedMaterial, wettedMaterials } from '../facts/wetted-materials.ts';
import { EVERY_METHOD, type FlagRule } from '../flag-rule.ts';
import { listText } from '../list-text.ts';

type Sample = VisitBundle['samples'][number];

/** PTFE by common practice; its kin by state guides on PFAS sampling (from memory). */
const FLUOROPOLYMER = /\b(?:ptfe|fep|pfa|etfe|pvdf)\b|polytetrafluoro|fluoropolymer/i;
const DENIED = /\b(?:free|no|non|not|without)\b/i;
const PFAS_SUITE = /pfas|pfos|pfoa|perfluoro|polyfluoro|\b(?:epa|method)[ -]?(?:533|537(?:\.1)?|1633)\b/i;

function isFluoropolymer({ material }: WettedMaterial): boolean {
  return FLUOROPOLYMER.test(material) && !DENIED.test(material);
}

/** The parts of the set-up that was in force when this sample was taken. */
function partsBehind(bundle: VisitBundle, sample: Sample): readonly WettedMaterial[] {
  const setUp = setUpAt(bundle, Date.parse(sample.fields.collected));
  return setUp ? wettedMaterials(bundle, setUp).filter(isFluoropolymer) : [];
}

const pfas = [{ suites: ['metals', 'PFAS'] }];
const ptfeBladder = [{ part: 'bladder', material: 'PTFE' }];

export const ptfeWithPfas: FlagRule = {
  code: 'ptfe-with-pfas',
  title: 'A fluoropolymer part in the way of a PFAS sample',
  severity: 'caution',
  addressee: 'now',
  source: 'Common practice, no source: for PFAS no PTFE; FEP, PFA, ETFE and PVDF: state PFAS guides (from memory)',
  verified: false,
  methods: EVERY_METHOD,
  yieldsTo: [],
  evaluate({ bundle }) {
    const found = bundle.samples
      .filter((sample) => sample.fields.suites.some((suite) => PFAS_SUITE.test(suite)))
      .flatMap((sample) => {
        const parts = partsBehind(bundle, sample);
        return parts.length > 0 ? [{ sample, parts }] : [];
      });
    if (found.length === 0) return [];
    const parts = new Set(found.flatMap((one) => one.parts.map(({ part, material }) => `${part} of ${material}`)));
    const numbers = found.map((one) => one.sample.fields.number).toSorted();
    return [
      {
        subjectKind: 'visit',
        subject: bundle.visit.id,
        sentence: `${listText(numbers)} for PFAS passed a ${listText([...parts].toSorted())}. Sample again through polyethylene, or take an equipment blank through this set-up.`,
        evidence: found.flatMap((one) => [
          fieldEvidence(one.sample, 'suites'),
          ...one.parts.map((part) => part.evidence),
        ]),
      },
    ];
  },
  vectors: [
    {
      name: 'a PTFE bladder',
      given: { setUps: [{ bladderMaterial: 'PTFE' }], samples: pfas },
      expect: 'raised',
      says: 'W-101 for PFAS passed a bladder of PTFE',
    },
    {
      name: 'tubing lined with PTFE',
      given: { setUps: [{ tubingMaterial: 'polyethylene, PTFE-lined' }], samples: pfas },
      expect: 'raised',
    },
    {
      name: 'a wetted part of the pump',
      given: { pump: { wettedParts: [{ part: 'check ball', material: 'PTFE' }] }, setUps: [{}], samples: pfas },
      expect: 'raised',
      says: 'check ball of PTFE',
    },
    {
      name: 'the PTFE bladder of the pump was changed for polyethylene',
      given: {
        pump: { wettedParts: ptfeBladder },
        setUps: [{ bladderMaterial: 'polyethylene' }],
        samples: pfas,
      },
      expect: 'silent',
    },
    {
      name: 'PTFE without PFAS',
      given: { setUps: [{ bladderMaterial: 'PTFE' }], samples: [{ suites: ['metals'] }] },
      expect: 'silent',
    },
    {
      name: 'the set-up was changed before the bottles',
      given: {
        setUps: [
          { at: '09:40', bladderMaterial: 'PTFE' },
          { at: '09:55', bladderMaterial: 'polyethylene' },
        ],
        samples: pfas,
      },
      expect: 'silent',
    },
    {
      name: 'free of it',
      given: { setUps: [{ tubingMaterial: 'PTFE-free' }], samples: pfas },
      expect: 'silent',
    },
  ],
};
