declare module '@lhncbc/ucum-lhc' {
  interface Conversion {
    readonly status: 'succeeded' | 'failed' | 'error';
    readonly toVal: number | null;
    readonly msg: readonly string[];
  }
  interface Utilities {
    convertUnitTo(from: string, value: number, to: string): Conversion;
    validateUnitString(code: string): { readonly status: 'valid' | 'invalid' | 'error' };
  }
  const library: { readonly UcumLhcUtils: { getInstance(): Utilities } };
  export default library;
}
