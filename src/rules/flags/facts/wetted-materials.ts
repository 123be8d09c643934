import type { VisitBundle } from '../../visit-bundle.ts';
import { fieldEvidence, shownText } from '../evidence.ts';
import type { Evidence } from '../raised-flag.ts';

type SetUp = VisitBundle['setUps'][number];

export interface WettedMaterial {
  readonly part: string;
  readonly material: string;
  readonly evidence: Evidence;
}

function ofSetUp(setUp: SetUp): readonly WettedMaterial[] {
  const { bladderMaterial, tubingMaterial } = setUp.fields;
  return [
    ...(bladderMaterial
      ? [{ part: 'bladder', material: bladderMaterial, evidence: fieldEvidence(setUp, 'bladderMaterial') }]
      : []),
    ...(tubingMaterial
      ? [{ part: 'tubing', material: tubingMaterial, evidence: fieldEvidence(setUp, 'tubingMaterial') }]
      : []),
  ];
}

/**
 * What the water touched on its way to the bottle. A bladder or tubing that the set-up names replaces the one in the
 * record of the pump, for these are the parts that are changed.
 */
export function wettedMaterials(bundle: VisitBundle, setUp: SetUp): readonly WettedMaterial[] {
  const named = ofSetUp(setUp);
  const pump = bundle.units.get(setUp.fields.pump);
  const parts = pump?.fields.wettedParts ?? [];
  const others = parts.filter(({ part }) => !named.some((one) => part.toLowerCase().includes(one.part)));
  return [
    ...named,
    ...others.map(({ part, material }) => ({
      part,
      material,
      evidence: { record: setUp.fields.pump, field: 'wettedParts', shows: shownText(`${part}: ${material}`) },
    })),
  ];
}
