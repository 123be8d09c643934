/**
 * By how much a depth may exceed the recorded bottom of a well and still be that bottom, in millionths of a foot:
 * half a foot for the reading to 0.1 ft (US EPA Region 1, SOP GW 0001, Rev. 2, 30 Jul 1996, p. 5 of 13; state file, doc
 * 975989, page 22), the weight below the zero of the tape and the age of the record (common practice, no source), and
 * 0.1 ft in 100 ft for a stretched tape (USGS Pacific Islands, errors of synoptic surveys, archived web page).
 */
export function tapeTolerance(depthMillionthsFt: number): number {
  return 500_000 + Math.max(0, depthMillionthsFt) / 1_000;
}

/** By how much silt may make a well shallower before the sounding is asked about. Common practice, no source. */
export const SILT_MILLIONTHS_FT = 2_000_000;
