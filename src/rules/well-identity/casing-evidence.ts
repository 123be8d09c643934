import { decimalText, millionths } from '../millionths.ts';
import { type Evidence, evidence, type WellCandidate, type WellMeasured } from './evidence.ts';

/**
 * By which part a casing may be off and still be the recorded one: a tenth is more than between any nominal size and its
 * actual inside diameter (1.25 in is 1.380 in), and less than to the next size, save that a nominal 1.5 in is not told
 * from an actual 1.380 in. Common practice, no source.
 */
const CASING_TOLERANCE_PART = 10;

/** The casing as measured against the recorded one: another size is another well, for casings do not grow. */
export function casingEvidence(well: WellCandidate, measured: WellMeasured): Evidence {
  const { name } = well.fields;
  const [found, recorded] = [measured.casingInsideDiameterIn, well.casingInsideDiameterIn];
  if (found === undefined) return evidence('casing', 'unknown', 'The casing was not measured.');
  if (recorded === undefined)
    return evidence('casing', 'unknown', `Not compared: the casing of ${name} is not recorded.`);
  const off = Math.abs(millionths(found) - millionths(recorded));
  const said = `A casing of ${found} in was measured, ${name} is recorded with ${recorded} in`;
  return off * CASING_TOLERANCE_PART > millionths(recorded)
    ? evidence('casing', 'contradicts', `${said}: ${decimalText(off)} in apart is another size.`)
    : evidence('casing', 'agrees', `${said}.`);
}
