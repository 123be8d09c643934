/** A line of the published table of practical suction lift by altitude. */
export interface PracticalLiftLine {
  readonly altitudeFt: number;
  readonly liftFt: number;
}

/**
 * Practical lift of surface pumps. Only altitude and lift are taken. The page also prints absolute pressures under the
 * name "psig" (14.71 at sea level), and a head of 24.13 ft at 7,920 ft that does not match the 10.88 psi beside it,
 * which carry 25.1 ft: a misprint, and no figure here comes from that column.
 */
export const PRACTICAL_SUCTION_LIFT = {
  source: 'engineeringtoolbox.com, suction head and altitude (page 1343), practical lift of surface pumps',
  verified: true,
  lines: [
    { altitudeFt: 0, liftFt: 22 },
    { altitudeFt: 1_320, liftFt: 21 },
    { altitudeFt: 2_640, liftFt: 20 },
    { altitudeFt: 3_960, liftFt: 18 },
    { altitudeFt: 5_280, liftFt: 17 },
    { altitudeFt: 6_600, liftFt: 16 },
    { altitudeFt: 7_920, liftFt: 15 },
    { altitudeFt: 10_560, liftFt: 14 },
  ] satisfies readonly PracticalLiftLine[],
} as const;
