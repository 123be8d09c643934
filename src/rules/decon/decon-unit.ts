import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import type { DeconUnitType } from './gear-of-unit.ts';

/** What is to be cleaned. */
export interface DeconUnit {
  readonly type: DeconUnitType;
  /** As painted on it. */
  readonly label?: string | null | undefined;
  readonly use: 'shared' | 'dedicated' | 'disposable';
  /** The well, as the wells it left and goes to are given. */
  readonly dedicatedTo?: string | null | undefined;
  /** Of dedicated gear: false where it is kept in the truck or a shed. */
  readonly keptInItsWell?: boolean | null | undefined;
  readonly wettedParts?: readonly { readonly part: string; readonly material: string }[] | null | undefined;
}

/** How a well is called in sentences: wells are compared as they are given, by their ids where two may have one name. */
export type WellNamed = (well: string) => string;

/** The well it comes from. Without classes nobody knows what it met there. */
export interface WellLeft {
  readonly well?: string | null | undefined;
  /** What else it met since it was last clean. */
  readonly alsoMet?: readonly string[] | undefined;
  readonly contaminants?: readonly ContaminantClass[] | null | undefined;
}

/** The well it goes to. */
export interface WellNext {
  readonly well?: string | null | undefined;
  readonly suites?: readonly string[] | null | undefined;
}

/** The last well that it met since it was last clean, other than this one. */
export function metElsewhere({ well, alsoMet }: WellLeft, than: string | null | undefined): string | undefined {
  return [...(alsoMet ?? []), well].findLast((one) => typeof one === 'string' && one !== than) ?? undefined;
}

/** "Pump P2", or "this bladder pump" where it has no label. */
export function unitWritten({ label, type }: Pick<DeconUnit, 'label' | 'type'>): string {
  return label ?? `this ${type.replaceAll('-', ' ')}`;
}

export function asSentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
