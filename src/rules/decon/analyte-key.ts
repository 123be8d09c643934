interface Analyte {
  readonly analyte: string;
  readonly casNumber?: string | null | undefined;
}

/** Whether two results are of one analyte: by CAS number where both give it, else by name. */
export function isSameAnalyte(a: Analyte, b: Analyte): boolean {
  if (a.casNumber && b.casNumber) return a.casNumber === b.casNumber;
  return a.analyte.trim().toLowerCase() === b.analyte.trim().toLowerCase();
}

/** Under which an analyte is looked up: its name, and its CAS number where it has one. */
export function analyteKeys({ analyte, casNumber }: Analyte): readonly string[] {
  const name = `name ${analyte.trim().toLowerCase()}`;
  return casNumber ? [`cas ${casNumber}`, name] : [name];
}
