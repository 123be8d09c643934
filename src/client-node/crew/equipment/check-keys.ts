import type { CheckParameter } from '../../../catalog/calibration/check-limit-set.ts';
import { CONDUCTIVITY_STANDARD_IDS } from '../../../catalog/standards/conductivity-standards.ts';
import { PH_BUFFER_IDS, PH_BUFFERS } from '../../../catalog/standards/ph-buffers.ts';
import { REFERENCE_ELECTRODE_IDS } from '../../../catalog/standards/reference-electrodes.ts';
import { ZOBELL_TABLE_IDS } from '../../../catalog/standards/zobell-tables.ts';
import { CrewError } from '../crew-error.ts';

/** What stands on the usual bottle, without its decimals. */
const USUAL: Readonly<Record<string, string>> = { 4: 'technical-400', 7: 'technical-700', 10: 'technical-1001' };

function buffers(): string {
  return PH_BUFFER_IDS.map((id) => `${PH_BUFFERS[id].label} (${id})`).join(', ');
}

/** buffer=7 is meant for the usual bottle; others go by the figure on the bottle or by their names. */
export function bufferNamed(given: string | undefined): string | undefined {
  if (given === undefined || (PH_BUFFER_IDS as readonly string[]).includes(given)) return given;
  const usual = Object.hasOwn(USUAL, given) ? USUAL[given] : undefined;
  if (usual) return usual;
  const labelled = /^\d/.test(given)
    ? PH_BUFFER_IDS.filter((id) => Number(PH_BUFFERS[id].label) === Number(given))
    : [];
  if (labelled.length === 1) return labelled[0];
  if (labelled.length > 1) throw new CrewError(`two buffers are ${given}: give buffer=${labelled.join(' or buffer=')}`);
  throw new CrewError(`"${given}" is no buffer that is known here: give 4, 7 or 10, or one of ${buffers()}`);
}

/** With which words the standard of a sensor is told, for a check that nobody can judge as it is. */
export function keysOf(parameter: CheckParameter): string {
  switch (parameter) {
    case 'ph':
      return `buffer=4.01 says which buffer, with temp=: ${buffers()}; or std-at-temp= from the table of the bottle`;
    case 'specific-conductance':
      return `std= is what the bottle says at 25 °C, or kcl= one of ${CONDUCTIVITY_STANDARD_IDS.join(', ')}, with temp=`;
    case 'dissolved-oxygen':
      return 'temp= of the saturated water, and the pressure there as mmhg= (or hpa=, inhg=), or the altitude as altft= (or altm=)';
    case 'orp':
      return `zobell= one of ${ZOBELL_TABLE_IDS.join(', ')}, electrode= one of ${REFERENCE_ELECTRODE_IDS.join(', ')}, with temp=; or std-at-temp=`;
    case 'zero-oxygen':
      return 'the reading in water without oxygen; temp= and lot= may stand there';
    default:
      return 'std= is the value of the standard; temp= and lot= may stand there';
  }
}
