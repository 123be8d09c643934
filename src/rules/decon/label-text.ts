import { deconFluid } from '../../catalog/decon/decon-fluids.ts';
import { DECON_HANDLING_RULES } from '../../catalog/decon/decon-handling-rules.ts';
import type { ContaminantClass, DeconProtocol } from '../../catalog/decon/decon-protocol.ts';

export interface LabelGiven {
  /** As painted on the unit. */
  readonly unit: string;
  readonly protocol: DeconProtocol;
  /** When the cleaning ended, as entered: the label carries the date where it was done. */
  readonly ended: string;
  /** What was done otherwise, each in a sentence. */
  readonly deviations?: readonly string[] | undefined;
  /** What the next samples ask for decides on the foil as well. */
  readonly nextClasses?: readonly ContaminantClass[] | undefined;
}

export interface LabelText {
  /** Line by line, as it is written. */
  readonly lines: readonly string[];
  readonly wrap: 'foil-and-bag' | 'bag';
  readonly wrapSentence: string;
  readonly sources: readonly string[];
}

/** The fluids in the order in which they were used, each once in a row: "detergent, potable water, ...". */
function fluidsInOrder({ steps }: DeconProtocol): string {
  const words = steps
    .filter(({ fluids, when }) => fluids.length > 0 && when === undefined)
    .map(({ fluids }) => fluids.map((fluid) => deconFluid(fluid).written).join(' or '));
  return words.filter((word, index) => word !== words[index - 1]).join('; ');
}

/**
 * What the label on the wrapping says: the procedure and the date.
 *
 * Source: US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18; California EPA, Ground
 * Water Sampling, 2.3.6; both read in copies. No foil for PFAS: state guides, from memory.
 */
export function labelText({ unit, protocol, ended, deviations, nextClasses }: LabelGiven): LabelText {
  const isPfas = protocol.against.includes('pfas') || (nextClasses ?? []).includes('pfas');
  const wrap = isPfas ? 'bag' : protocol.wrap;
  const { label, foilAndBag, noFoilForPfas } = DECON_HANDLING_RULES;
  const bagAlone = isPfas ? noFoilForPfas.wording : 'Put into a clean plastic bag.';
  return {
    lines: [
      unit,
      `Decontaminated ${ended.slice(0, 10)}`,
      protocol.title,
      fluidsInOrder(protocol),
      ...(deviations ?? []).map((deviation) => `Otherwise: ${deviation}`),
    ],
    wrap,
    wrapSentence: wrap === 'foil-and-bag' ? foilAndBag.wording : bagAlone,
    sources: [label.source, isPfas ? noFoilForPfas.source : foilAndBag.source],
  };
}
