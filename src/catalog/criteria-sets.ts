import { astmD6771Of2021 } from './criteria/astm-d6771-21.ts';
import { epaRegion1LowStressRev2 } from './criteria/epa-region-1-low-stress-rev-2.ts';
import { epaRegion1LowStressRev4 } from './criteria/epa-region-1-low-stress-rev-4.ts';
import { paulAndPuls2001 } from './criteria/paul-and-puls-2001.ts';
import { pulsAndBarcelona1996 } from './criteria/puls-and-barcelona-1996.ts';
import { usgsFieldManualA4Of2006 } from './criteria/usgs-field-manual-a4-2006.ts';
import { yeskisAndZavala2002 } from './criteria/yeskis-and-zavala-2002.ts';
import type { CriteriaSet, Figure, Tolerance } from './criteria-set.ts';

/** Every criteria set of the catalog. A set is never taken out or changed: an event of the past cites it. */
export const criteriaSets: readonly CriteriaSet[] = [
  epaRegion1LowStressRev4,
  epaRegion1LowStressRev2,
  pulsAndBarcelona1996,
  paulAndPuls2001,
  yeskisAndZavala2002,
  usgsFieldManualA4Of2006,
  astmD6771Of2021,
];

const byId = new Map(criteriaSets.map((set) => [set.id, set]));

export function criteriaSet(id: string): CriteriaSet | undefined {
  return byId.get(id);
}

function figuresOfTolerance(tolerance: Tolerance): readonly Figure[] {
  if (tolerance.rule === 'low-value') return [];
  return tolerance.rule === 'greater-of' ? tolerance.of.map((part) => part.within) : [tolerance.within];
}

/** Every number of a set, with how we come by it. */
export function figuresOf(set: CriteriaSet): readonly Figure[] {
  const ofParameters = set.criteria.flatMap((criterion) =>
    criterion.branches.flatMap((branch) => [branch.below, ...figuresOfTolerance(branch.tolerance)]),
  );
  const ofSet = [
    set.readings,
    set.minimumIntervalMin,
    set.turnoverCellVolumes,
    set.drawdownTarget?.limit,
    set.timeLimitMin,
  ];
  return [...ofParameters, ...ofSet].filter((figure) => figure !== undefined);
}

function everyFigureSeen(set: CriteriaSet): boolean {
  return figuresOf(set).every((figure) => figure.verified);
}

const verified = new Map(criteriaSets.map((set) => [set, everyFigureSeen(set)]));

/** Whether every number of a set was read in its document. */
export function isVerified(set: CriteriaSet): boolean {
  return verified.get(set) ?? everyFigureSeen(set);
}
