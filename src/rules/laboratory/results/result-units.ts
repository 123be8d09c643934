/** Source: US EPA, Water Quality Exchange, domain list of units, version 3.0.209, those that a result of water may have. */
const UNITS = ['mg/L', 'ug/L', 'ng/L', 'pCi/L', 'uS/cm', 'NTU', 'FNU', 'mV', 'deg C', '%', 'None'] as const;
const KNOWN: readonly string[] = UNITS;
/** They differ by a factor of a thousand, and by nothing else. */
const MASS: readonly string[] = ['mg/L', 'ug/L', 'ng/L'];

/** Both signs for micro are written as u; nothing is converted. */
export function plainUnit(unit: string): string {
  return unit
    .trim()
    .replace(/^[\u00b5\u03bc]/u, 'u')
    .replace(/^°C$/, 'deg C');
}

export type UnitJudged =
  | { readonly as: 'fits' }
  | { readonly as: 'differs'; readonly note: string }
  | { readonly as: 'wrong'; readonly problem: string; readonly toDo: string };

/** @param ordered the unit of the order, where there is one */
export function judgeUnit(unit: string, ordered: string | undefined): UnitJudged {
  const [given, asked] = [plainUnit(unit), ordered === undefined ? undefined : plainUnit(ordered)];
  if (asked === given) return { as: 'fits' };
  if (!KNOWN.includes(given)) {
    const like = KNOWN.find((one) => one.toLowerCase() === given.toLowerCase());
    const toDo = like ? `write ${like}` : `use one of: ${[...KNOWN, ...(asked ? [asked] : [])].join(', ')}`;
    return { as: 'wrong', problem: 'this unit is not known', toDo };
  }
  if (asked === undefined) return { as: 'fits' };
  if (MASS.includes(given) && MASS.includes(asked)) {
    return {
      as: 'differs',
      note: `it is reported in ${given} and was ordered in ${asked}: see that the figure is meant so`,
    };
  }
  return { as: 'wrong', problem: `it was ordered in ${asked}`, toDo: `report it in ${asked}` };
}
