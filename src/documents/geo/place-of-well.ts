/** Where a well is, as recorded. */
export interface RecordedPlace {
  readonly latitudeDeg?: string;
  readonly longitudeDeg?: string;
  /** Absent: not stated, and taken for WGS 84. */
  readonly datum?: string;
}

export interface PointGeometry {
  readonly type: 'Point';
  readonly coordinates: readonly [longitudeDeg: number, latitudeDeg: number];
}

export type Placed = { readonly geometry: PointGeometry } | { readonly geometry: null; readonly whyNoPlace: string };

function degrees(text: string, most: number): number | undefined {
  const value = /^[-+]?\d+(?:\.\d+)?$/.test(text) ? Number(text) : Number.NaN;
  return Math.abs(value) <= most ? value : undefined;
}

/**
 * A point as GeoJSON has it: longitude first, WGS 84 and nothing else (RFC 7946, sections 3.1.1 and 4). Coordinates of
 * another datum are not converted here, and a feature without a place says why (section 3.2 lets its geometry be null).
 */
export function placeOfWell({ latitudeDeg, longitudeDeg, datum = 'WGS84' }: RecordedPlace): Placed {
  const nowhere = (whyNoPlace: string): Placed => ({ geometry: null, whyNoPlace });
  if (latitudeDeg === undefined || longitudeDeg === undefined) return nowhere('no coordinates are recorded');
  if (!/^WGS ?84$/i.test(datum)) return nowhere(`the coordinates are in ${datum}, and GeoJSON takes WGS 84 alone`);
  const latitude = degrees(latitudeDeg, 90);
  const longitude = degrees(longitudeDeg, 180);
  if (latitude === undefined) return nowhere(`the latitude "${latitudeDeg}" is not between -90 and 90 degrees`);
  if (longitude === undefined) return nowhere(`the longitude "${longitudeDeg}" is not between -180 and 180 degrees`);
  return { geometry: { type: 'Point', coordinates: [longitude, latitude] } };
}
