import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import type { DeconUnitType } from './gear-of-unit.ts';

/** What is to be cleaned. */
export interface DeconUnit {
  readonly type: DeconUnitType;
  /** As painted on it. */
  readonly label?: string | null | undefined;
  readonly use: 'shared' | 'dedicated' | 'disposable';
  readonly dedicatedTo?: string | null | undefined;
  /** Of dedicated gear: false where it is kept in the truck or a shed. */
  readonly keptInItsWell?: boolean | null | undefined;
  readonly wettedParts?: readonly { readonly part: string; readonly material: string }[] | null | undefined;
}

/** The well it comes from. Without classes nobody knows what it met there. */
export interface WellLeft {
  readonly well?: string | null | undefined;
  readonly contaminants?: readonly ContaminantClass[] | null | undefined;
}

/** The well it goes to. */
export interface WellNext {
  readonly well?: string | null | undefined;
  readonly suites?: readonly string[] | null | undefined;
}

/** "Pump P2", or "this bladder pump" where it has no label. */
export function unitWritten({ label, type }: Pick<DeconUnit, 'label' | 'type'>): string {
  return label ?? `this ${type.replaceAll('-', ' ')}`;
}

export function asSentence(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
