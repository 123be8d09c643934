import { DECON_HANDLING_RULES } from '../../catalog/decon/decon-handling-rules.ts';
import type {
  ContaminantClass,
  DeconGear,
  DeconProtocol,
  DeconProtocolId,
} from '../../catalog/decon/decon-protocol.ts';
import { DECON_PROTOCOLS } from '../../catalog/decon/decon-protocols.ts';
import { listText } from '../flags/list-text.ts';
import { classWritten } from './classes-of-suites.ts';
import { gearWritten } from './gear-of-unit.ts';

export type AdviceStanding = 'advised' | 'would-do' | 'in-part' | 'does-not-suit';

export interface ProtocolAdvice {
  readonly protocol: DeconProtocolId;
  readonly title: string;
  readonly standing: AdviceStanding;
  readonly covers: readonly ContaminantClass[];
  readonly leaves: readonly ContaminantClass[];
  readonly reasons: readonly string[];
  readonly source: string;
  readonly verified: boolean;
}

export interface AdviceGiven {
  readonly gear: DeconGear;
  readonly classes: readonly ContaminantClass[];
  readonly planned: readonly string[];
  readonly advised: readonly DeconProtocol[];
  readonly isStainless: boolean;
}

const NITRIC =
  'On stainless steel take hydrochloric acid: nitric acid may oxidize it (US EPA, RCRA Ground-Water Monitoring, Draft Technical Guidance, Nov 1992, p. 7-18, read in a copy).';
const ACID_ON_ORGANICS =
  'It brings acid onto gear that is cleaned of organics alone: keep acid off it (US Geological Survey, National Field Manual, chapter A3, from memory).';
const SOLVENT_AND_PFAS =
  'Where PFAS matter, only a solvent that bears no fluorosurfactant (state guides on PFAS sampling, from memory).';

function uses(protocol: DeconProtocol, fluids: readonly string[]): boolean {
  return protocol.steps.some((step) => step.fluids.some((fluid) => fluids.includes(fluid)));
}

function againstIt(protocol: DeconProtocol, { classes, isStainless }: AdviceGiven): string[] {
  const acid = uses(protocol, ['hydrochloric-acid', 'nitric-acid']);
  const solvent = uses(protocol, ['acetone', 'isopropanol', 'methanol']);
  const { wording, source } = DECON_HANDLING_RULES.noFoilForPfas;
  return [
    ...(isStainless && uses(protocol, ['nitric-acid']) ? [NITRIC] : []),
    ...(acid && !classes.includes('inorganics') ? [ACID_ON_ORGANICS] : []),
    ...(solvent && classes.includes('pfas') ? [SOLVENT_AND_PFAS] : []),
    ...(protocol.wrap === 'foil-and-bag' && classes.includes('pfas') ? [`${wording} (${source})`] : []),
    ...(protocol.verified ? [] : ['Not every step of it was read in its document: check it against the document.']),
  ];
}

function coverText(covers: readonly ContaminantClass[], leaves: readonly ContaminantClass[]): string {
  const words = (classes: readonly ContaminantClass[]) => listText(classes.map(classWritten));
  if (covers.length === 0) return 'It serves against nothing that is asked for here.';
  return `It serves against ${words(covers)}${leaves.length > 0 ? `, not against ${words(leaves)}` : ''}.`;
}

function standingOf(protocol: DeconProtocol, given: AdviceGiven, leaves: number, covers: number): AdviceStanding {
  if (given.advised.includes(protocol)) return 'advised';
  if (!protocol.gear.includes(given.gear) || covers === 0) return 'does-not-suit';
  return leaves === 0 ? 'would-do' : 'in-part';
}

function adviceOn(protocol: DeconProtocol, given: AdviceGiven): ProtocolAdvice {
  const covers = given.classes.filter((one) => protocol.against.includes(one));
  const leaves = given.classes.filter((one) => !protocol.against.includes(one));
  const isPlanned = given.planned.includes(protocol.id);
  const isForGear = protocol.gear.includes(given.gear);
  return {
    protocol: protocol.id,
    title: protocol.title,
    standing: standingOf(protocol, given, leaves.length, covers.length),
    covers,
    leaves,
    reasons: [
      ...(isPlanned ? ['The plan names it.'] : []),
      ...(isForGear ? [] : [`It is not made for ${gearWritten(given.gear)}.`]),
      coverText(covers, leaves),
      ...againstIt(protocol, given),
    ],
    source: protocol.source,
    verified: protocol.verified,
  };
}

function isOfInterest(protocol: DeconProtocol, { gear, classes, planned }: AdviceGiven): boolean {
  if (planned.includes(protocol.id)) return true;
  const isForProduct = protocol.against.includes('product') && !classes.includes('product');
  return protocol.gear.includes(gear) && !isForProduct && classes.some((one) => protocol.against.includes(one));
}

/** What is advised first, then what else would do something for this gear, and what the plan names; with reasons. */
export function adviseOnProtocols(given: AdviceGiven): readonly ProtocolAdvice[] {
  const others = DECON_PROTOCOLS.filter(
    (protocol) => !given.advised.includes(protocol) && isOfInterest(protocol, given),
  );
  return [...given.advised, ...others].map((protocol) => adviceOn(protocol, given));
}
