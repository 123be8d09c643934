import type { DrawdownUnit } from '../../catalog/criteria-set.ts';
import { millionths } from '../../science/millionths.ts';
import { type DepthField, depthBelowPoint } from '../well-depth.ts';
import type { SetUpRecord, WellRecord } from './assessment-input.ts';

/** Depths below the measuring point in millionths of a foot; null where they are not recorded. */
export interface WellGeometry {
  readonly staticLevel: number | null;
  readonly screenTop: number | null;
  readonly screenBottom: number | null;
  readonly bottom: number | null;
  readonly intake: number | null;
}

function depthOf(well: WellRecord | null, field: DepthField): number | null {
  const depth = well === null ? null : depthBelowPoint(well, field);
  return depth?.known ? depth.millionthsFt : null;
}

function optional(text: string | null | undefined): number | null {
  return text == null ? null : millionths(text);
}

export function wellGeometry(
  well: WellRecord | null,
  setUp: SetUpRecord | null,
  staticFt: string | null,
): WellGeometry {
  return {
    staticLevel: optional(staticFt),
    screenTop: depthOf(well, 'screenTopFt'),
    screenBottom: depthOf(well, 'screenBottomFt'),
    bottom: depthOf(well, 'totalDepthFt'),
    intake: optional(setUp?.fields.intakeDepthFt),
  };
}

/** A length between two depths; null where one is not known or nothing lies between them. */
function between(upper: number | null, lower: number | null): number | null {
  return upper === null || lower === null || lower <= upper ? null : lower - upper;
}

/** The water that stands in the well before the purge. */
export function standingColumn({ staticLevel, bottom }: WellGeometry): number | null {
  return between(staticLevel, bottom);
}

/** The length of which a limit of the drawdown is a percentage. */
export function drawdownBase(geometry: WellGeometry, unit: DrawdownUnit): number | null {
  const { screenTop, screenBottom, intake } = geometry;
  if (unit === 'percent-of-screen-top-to-intake') return between(screenTop, intake);
  if (unit === 'percent-of-screen-length') return between(screenTop, screenBottom);
  return standingColumn(geometry);
}

/** Whether the intake hangs inside a screen that is all under water before the purge; null where that cannot be told. */
export function insideSubmergedScreen({ staticLevel, screenTop, screenBottom, intake }: WellGeometry): boolean | null {
  if (staticLevel === null || screenTop === null || screenBottom === null || intake === null) return null;
  return staticLevel <= screenTop && screenTop <= intake && intake <= screenBottom;
}
