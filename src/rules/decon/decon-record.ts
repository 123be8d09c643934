import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';

/** A decontamination as recorded: of which unit, by which protocol, from when to when. */
export interface DeconRecord {
  readonly id: string;
  readonly unit: string;
  /** Of the catalog. */
  readonly protocol: string;
  readonly against?: readonly ContaminantClass[] | null | undefined;
  readonly began: string;
  readonly ended?: string | null | undefined;
  /** The label of the drum that took the water. */
  readonly wasteTo?: string | null | undefined;
  readonly labelText?: string | null | undefined;
}

/** One step of it, done or left out. */
export interface DeconStepRecord {
  readonly id: string;
  readonly decon: string;
  readonly step: string;
  readonly done: boolean;
  readonly fluid?: string | null | undefined;
  readonly lot?: string | null | undefined;
  /** Why it was left out or done otherwise. */
  readonly reason?: string | null | undefined;
  /** The new part that was put in. */
  readonly part?: string | null | undefined;
  readonly observed: { readonly at: string };
}

/** A soft part, by which a lot is known. */
export interface SoftPart {
  readonly id: string;
  readonly type: string;
  readonly label?: string | null | undefined;
  readonly lot?: string | null | undefined;
}

/** A step of another decontamination that put in a part counts as one of these. */
export interface PartChangeRecord {
  readonly id: string;
  readonly unit: string;
  readonly part: string;
  readonly action: 'installed' | 'removed' | 'discarded' | 'kept-for-well';
  readonly well?: string | null | undefined;
  readonly observed: { readonly at: string };
}
