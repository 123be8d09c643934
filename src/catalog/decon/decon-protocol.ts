import type { Figure } from '../criteria-set.ts';
import type { DeconFluidId } from './decon-fluids.ts';

/** What a unit may carry from one well to the next. Product: liquid that does not mix with water, or its film. */
export const CONTAMINANT_CLASSES = ['organics', 'inorganics', 'pfas', 'product'] as const;
export type ContaminantClass = (typeof CONTAMINANT_CLASSES)[number];

/** Kinds of gear by how they touch water, which is what a protocol is made for. */
export const DECON_GEAR = [
  'downhole-pump',
  'bladder-pump',
  'tape-or-probe',
  'meter',
  'flow-cell',
  'hand-gear',
] as const;
export type DeconGear = (typeof DECON_GEAR)[number];

/** Soft parts that a protocol has replaced. */
export const CHANGED_PARTS = ['bladder', 'tubing', 'o-ring-set', 'support-line'] as const;
export type ChangedPart = (typeof CHANGED_PARTS)[number];

export const DECON_PROTOCOL_IDS = [
  'acid-then-solvent',
  'bladder-pump-new-parts',
  'hand-gear-wash',
  'inorganics-acid-before-tap-water',
  'inorganics-acid-rinse',
  'meter-rinse',
  'organics-acetone-rinse',
  'pfas-free-rinse',
  'product-contact',
  'pump-flush',
  'tape-wipe-down',
] as const;
export type DeconProtocolId = (typeof DECON_PROTOCOL_IDS)[number];

export interface DeconStep {
  /** Its place in the order of the protocol, from 1; as sure as the step itself. */
  readonly place: number;
  /** Plain words, unique within the protocol; records cite it, so it never changes its meaning. */
  readonly id: string;
  /** What to do, in a sentence. */
  readonly action: string;
  /** One of these; none where the step needs no fluid. */
  readonly fluids: readonly DeconFluidId[];
  readonly strength?: { readonly figure: Figure; readonly unit: string };
  /** How often at least; missing: once. */
  readonly leastTimes?: Figure;
  /** Only where this is so; missing: always. */
  readonly when?: string;
  /** Only for these kinds of gear; missing: for all of the protocol. */
  readonly onlyFor?: readonly DeconGear[];
  /** Leaves water that goes into a drum. */
  readonly makesWaste: boolean;
  /** The soft part that is replaced by a new one. */
  readonly change?: ChangedPart;
  /** What to mind besides what the fluid asks for. */
  readonly caution?: string;
  readonly source: string;
  /** Read at that place in the document, or in the copy named. */
  readonly verified: boolean;
}

/** How to clean a kind of gear, as one edition of one document gives it. Editions differ: a new one is a new protocol. */
export interface DeconProtocol {
  /** Plain words of our own; plans and records cite it, so it never changes its meaning. */
  readonly id: DeconProtocolId;
  readonly title: string;
  readonly document: string;
  readonly edition: string;
  /** Date of the edition, as exactly as it is known. */
  readonly dated: string;
  readonly source: string;
  /** Whether every step was read in its document. */
  readonly verified: boolean;
  readonly against: readonly ContaminantClass[];
  readonly gear: readonly DeconGear[];
  /** Whether clean gear may be wrapped in aluminium foil, or a bag alone is meant. */
  readonly wrap: 'foil-and-bag' | 'bag';
  readonly note?: string;
  readonly steps: readonly DeconStep[];
}
