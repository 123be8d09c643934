import type { RecordedPlace } from './place-of-well.ts';

/** A well on a map. Measured values are strings, so that 7.10 stays 7.10. */
export interface GeoWell extends RecordedPlace {
  readonly id: string;
  readonly name: string;
  readonly site?: string;
  readonly standing?: string;
  readonly totalDepthFt?: string;
  readonly screenTopFt?: string;
  readonly screenBottomFt?: string;
  readonly depthsFrom?: string;
  readonly measuringPointElevationFt?: string;
  readonly elevationDatum?: string;
}

/** A level on a map, at the place of its well. */
export interface GeoLevel {
  readonly id: string;
  readonly well: GeoWell;
  /** As entered, with its offset. */
  readonly observedAt: string;
  readonly purpose: string;
  readonly state: string;
  readonly depthToWaterFt?: string;
  readonly waterElevationFt?: string;
  readonly measuringPoint?: string;
  readonly remark?: string;
}
