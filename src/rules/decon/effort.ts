import { DECON_HANDLING_RULES } from '../../catalog/decon/decon-handling-rules.ts';
import type { ContaminantClass } from '../../catalog/decon/decon-protocol.ts';
import { type DeconUnit, metElsewhere, type WellLeft, type WellNamed, type WellNext } from './decon-unit.ts';
import { type WaterContact, waterContact } from './gear-of-unit.ts';

export const DECON_EFFORTS = ['none', 'wipe-down', 'rinse', 'full', 'after-product', 'replace'] as const;
export type DeconEffort = (typeof DECON_EFFORTS)[number];

export interface EffortAnswer {
  readonly effort: DeconEffort;
  readonly reasons: readonly string[];
  readonly notKnown: readonly string[];
  /** Cleaned by a protocol of the catalog; false where its use already says all there is to do. */
  readonly isByProtocol: boolean;
}

function answer(effort: DeconEffort, reason: string, notKnown: readonly string[] = []): EffortAnswer {
  return { effort, reasons: [reason], notKnown, isByProtocol: false };
}

function byProtocol(effort: DeconEffort, reasons: readonly string[]): EffortAnswer {
  return { effort, reasons, notKnown: [], isByProtocol: true };
}

/** Why dedicated gear is cleaned like what crews share: it goes into another well, or comes from one. */
function movedReason(unit: DeconUnit, left: WellLeft, next: WellNext, named: WellNamed): string | undefined {
  const { use, dedicatedTo } = unit;
  if (use !== 'dedicated' || !dedicatedTo) return undefined;
  const own = named(dedicatedTo);
  if (next.well && dedicatedTo !== next.well)
    return `It is dedicated to ${own} and would go into ${named(next.well)}: it counts as shared.`;
  const elsewhere = metElsewhere(left, dedicatedTo);
  return elsewhere ? `It is dedicated to ${own} and was in ${named(elsewhere)}: it counts as shared.` : undefined;
}

/** Gear of one well goes nowhere else: undefined where it does, and so is cleaned like what crews share. */
function ofDedicated(unit: DeconUnit, left: WellLeft, next: WellNext, named: WellNamed): EffortAnswer | undefined {
  if (unit.use !== 'dedicated' || movedReason(unit, left, next, named)) return undefined;
  const rule = DECON_HANDLING_RULES.dedicatedOutside;
  if (unit.keptInItsWell === false) return answer('rinse', `${rule.wording} (${rule.source})`);
  const notKnown = [
    ...(unit.dedicatedTo ? [] : ['To which well it is dedicated is not recorded.']),
    ...(unit.keptInItsWell === undefined || unit.keptInItsWell === null
      ? ['Whether it is kept in its well is not recorded: what is kept elsewhere is rinsed before use.']
      : []),
  ];
  return answer('none', 'It is dedicated to its well and carries nothing to another.', notKnown);
}

function ofUse(
  unit: DeconUnit,
  contact: WaterContact,
  left: WellLeft,
  next: WellNext,
  named: WellNamed,
): EffortAnswer | undefined {
  if (contact === 'dry') return answer('none', 'No part of it touches the water; wipe it where it is soiled.');
  const elsewhere = metElsewhere(left, next.well);
  if (unit.use === 'disposable')
    return elsewhere
      ? answer('replace', `It is disposable and was used in ${named(elsewhere)}: discard it and take a new one.`)
      : answer('none', 'It is disposable: discard it after this well and take a new one for the next.');
  const dedicated = ofDedicated(unit, left, next, named);
  if (dedicated) return dedicated;
  if (left.well && left.well === next.well && !elsewhere)
    return answer(
      'none',
      `It goes back into ${named(left.well)}: nothing is carried over. Clean it before any other well.`,
    );
  if (contact !== 'tubing') return undefined;
  const rule = DECON_HANDLING_RULES.tubingStays;
  return answer('replace', `${rule.wording} Leave it in its well or discard it. (${rule.source})`);
}

const BY_CONTACT: Readonly<Record<Exclude<WaterContact, 'dry' | 'tubing'>, readonly [DeconEffort, string]>> = {
  'bladder-pump': ['full', 'A pump that goes from well to well is cleaned in full, with its soft parts new.'],
  'downhole-pump': ['full', 'A pump that goes from well to well is cleaned in full, inside and outside.'],
  'tape-or-probe': ['wipe-down', 'A tape is wiped down while it is reeled in.'],
  meter: ['rinse', 'A meter is wiped and rinsed.'],
  'flow-cell': ['rinse', 'A flow cell is emptied and rinsed.'],
  'hand-gear': ['full', 'Hand gear that touches the sample is washed and rinsed in full.'],
  unknown: ['full', 'Its type does not say what of it touches water: it is cleaned in full, like hand gear.'],
};

/**
 * How much cleaning a unit needs between two wells, by what it is and whose it is: full for what crews share down the
 * well, a wipe-down for a tape, a rinse for meter and cell, none for what is dedicated or thrown away, more after
 * product. Common practice, no source, but for the rules that are named.
 */
export function deconEffort(
  unit: DeconUnit,
  classes: readonly ContaminantClass[],
  left: WellLeft,
  next: WellNext,
  named: WellNamed = (well) => well,
): EffortAnswer {
  const contact = waterContact(unit.type);
  const byUse = ofUse(unit, contact, left, next, named);
  if (byUse) return byUse;
  if (contact === 'dry' || contact === 'tubing') throw new RangeError(`${unit.type} is judged by its use`);
  const why = movedReason(unit, left, next, named);
  const moved = why === undefined ? [] : [why];
  const [effort, usual] = BY_CONTACT[contact];
  if (classes.includes('product'))
    return byProtocol('after-product', [
      ...moved,
      'It met product: it is suspect, and takes more than the usual cleaning.',
    ]);
  if (contact === 'tape-or-probe' && classes.includes('pfas'))
    return byProtocol('full', [...moved, 'Where PFAS matter, a wipe-down is not enough.']);
  return byProtocol(effort, [...moved, usual]);
}
