import { airBaseWellDevelopment2010 } from './criteria/air-base-well-development-2010.ts';
import { astmD6771Of2021 } from './criteria/astm-d6771-21.ts';
import { coloradoMinePermitProtocol } from './criteria/colorado-mine-permit-protocol.ts';
import { countyCasingVolumeProtocol } from './criteria/county-casing-volume-protocol.ts';
import { epaRegion1LowStressRev2 } from './criteria/epa-region-1-low-stress-rev-2.ts';
import { epaRegion1LowStressRev4 } from './criteria/epa-region-1-low-stress-rev-4.ts';
import { epaRegion4LowFlow2013 } from './criteria/epa-region-4-low-flow-2013.ts';
import { epaRegion4WellVolumes2013 } from './criteria/epa-region-4-well-volumes-2013.ts';
import { floridaFs2200Of2017 } from './criteria/florida-fs-2200-2017.ts';
import { newJerseyLowFlow2003 } from './criteria/new-jersey-low-flow-2003.ts';
import { ohioChapter10 } from './criteria/ohio-chapter-10-2012.ts';
import { paulAndPuls2001 } from './criteria/paul-and-puls-2001.ts';
import { pulsAndBarcelona1996 } from './criteria/puls-and-barcelona-1996.ts';
import { pulsAndPaul1995 } from './criteria/puls-and-paul-1995.ts';
import { stateSolidWasteRule } from './criteria/state-solid-waste-rule.ts';
import { ufgsWellDevelopment } from './criteria/ufgs-02521-well-development.ts';
import { usgsFieldManualA4Of2006 } from './criteria/usgs-field-manual-a4-2006.ts';
import { yeskisAndZavala2002 } from './criteria/yeskis-and-zavala-2002.ts';
import type { ByIntake, CriteriaSet, Criterion, DrawnVolume, Figure, Tolerance } from './criteria-set.ts';

/** Every criteria set of the catalog. A set is never taken out or changed: an event of the past cites it. */
export const criteriaSets: readonly CriteriaSet[] = [
  epaRegion1LowStressRev4,
  epaRegion1LowStressRev2,
  pulsAndBarcelona1996,
  paulAndPuls2001,
  yeskisAndZavala2002,
  usgsFieldManualA4Of2006,
  astmD6771Of2021,
  epaRegion4LowFlow2013,
  epaRegion4WellVolumes2013,
  newJerseyLowFlow2003,
  floridaFs2200Of2017,
  ohioChapter10,
  ufgsWellDevelopment,
  airBaseWellDevelopment2010,
  stateSolidWasteRule,
  coloradoMinePermitProtocol,
  countyCasingVolumeProtocol,
  pulsAndPaul1995,
];

const byId = new Map(criteriaSets.map((set) => [set.id, set]));

export function criteriaSet(id: string): CriteriaSet | undefined {
  return byId.get(id);
}

function figuresOfTolerance(tolerance: Tolerance): readonly Figure[] {
  switch (tolerance.rule) {
    case 'low-value':
      return [];
    case 'at-most':
      return [tolerance.limit];
    case 'greater-of':
    case 'either':
      return tolerance.of.flatMap(figuresOfTolerance);
    default:
      return [tolerance.within];
  }
}

function figuresOfCriterion({ branches, orInPercentSaturation, atMost }: Criterion): (Figure | undefined)[] {
  const ofBranches = branches.flatMap((branch) => [branch.below, ...figuresOfTolerance(branch.tolerance)]);
  const inSaturation = orInPercentSaturation ? figuresOfTolerance(orInPercentSaturation) : [];
  return [...ofBranches, ...inSaturation, atMost];
}

function figuresOfVolume(rule: DrawnVolume | ByIntake | undefined): (Figure | undefined)[] {
  if (rule === undefined) return [];
  return 'times' in rule ? [rule.times] : [rule.insideSubmergedScreen?.times, rule.elsewhere?.times];
}

/** Every number of a set, with how we come by it. */
export function figuresOf(set: CriteriaSet): readonly Figure[] {
  const ofSet = [
    set.readings,
    set.minimumIntervalMin,
    set.turnoverCellVolumes,
    set.drawdownTarget?.limit,
    ...figuresOfVolume(set.beforeFirstReading),
    ...figuresOfVolume(set.betweenReadings),
    ...(set.limits ?? []).map((limit) => limit.at),
  ];
  return [...set.criteria.flatMap(figuresOfCriterion), ...ofSet].filter((figure) => figure !== undefined);
}

function everyFigureSeen(set: CriteriaSet): boolean {
  return figuresOf(set).every((figure) => figure.verified);
}

const verified = new Map(criteriaSets.map((set) => [set, everyFigureSeen(set)]));

/** Whether every number of a set was read in its document. */
export function isVerified(set: CriteriaSet): boolean {
  return verified.get(set) ?? everyFigureSeen(set);
}
