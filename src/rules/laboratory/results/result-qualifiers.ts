/**
 * Qualifiers of a result that are taken. Source: US EPA, Water Quality Exchange, domain list of result measure qualifiers,
 * version 3.0.209; J, U and R with their signs, and those of holding times, receipt, blanks, replicates and spikes.
 */
export const RESULT_QUALIFIERS = [
  ...['U', 'J', 'J+', 'J-', 'R', 'B', 'BT', 'H', 'H2', 'H3', 'H4', 'H5', 'HF', 'TOC', 'ISP', 'JCN', 'JCW', 'NSQ'],
  ...['FFB', 'FFT', 'FFD', 'FEQ', 'FUB', 'KCF', 'SCF', 'FMS', 'FMD', 'MSR', 'RPDX', 'SBB', 'FS'],
] as const;

const KNOWN: readonly string[] = RESULT_QUALIFIERS;

export const NOT_DETECTED = 'U';
export const ESTIMATED: readonly string[] = ['J', 'J+', 'J-'];

export function qualifiersIn(cell: string): readonly string[] {
  return cell.split(/[\s,;]+/).filter((code) => code !== '');
}

/** What to write instead of codes that are not in the list; null where all are. */
export function unknownQualifier(codes: readonly string[]): { readonly code: string; readonly toDo: string } | null {
  const code = codes.find((one) => !KNOWN.includes(one));
  if (code === undefined) return null;
  const upper = code.toUpperCase();
  if (KNOWN.includes(upper)) return { code, toDo: `write ${upper}` };
  // a convention of data validation, and no code of the list
  if (upper === 'UJ') return { code, toDo: 'write U J, as two codes' };
  if (upper === 'ND') return { code, toDo: 'write U, and give the reporting limit' };
  return { code, toDo: `use codes of the list: ${KNOWN.join(' ')}; what has none goes into remark` };
}
