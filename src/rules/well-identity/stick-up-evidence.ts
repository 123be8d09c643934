import { decimalText, millionths } from '../millionths.ts';
import { type Evidence, evidence, type WellCandidate, type WellMeasured } from './evidence.ts';

/** Half a foot, for ground sinks, washes away and is filled. Common practice, no source. */
const STICK_UP_TOLERANCE_MILLIONTHS_FT = 500_000;

/** The stick-up as measured against the recorded one. It only makes doubtful: a casing is cut or the ground filled. */
export function stickUpEvidence(well: WellCandidate, measured: WellMeasured): Evidence {
  const { name, stickUpFt: recorded } = well.fields;
  const found = measured.stickUpFt;
  if (found === undefined) return evidence('stick-up', 'unknown', 'The stick-up was not measured.');
  if (recorded == null)
    return evidence('stick-up', 'unknown', `Not compared: the stick-up of ${name} is not recorded.`);
  const off = Math.abs(millionths(found) - millionths(recorded));
  const said = `A stick-up of ${found} ft was measured, ${name} is recorded with ${recorded} ft`;
  return off > STICK_UP_TOLERANCE_MILLIONTHS_FT
    ? evidence(
        'stick-up',
        'doubts',
        `${said}: ${decimalText(off)} ft apart; a casing may have been cut or the ground filled.`,
      )
    : evidence('stick-up', 'agrees', `${said}.`);
}
