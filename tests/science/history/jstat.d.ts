/** What the tests use of a general-purpose statistics library that ships no types. */
declare module 'jstat' {
  const library: {
    readonly jStat: {
      readonly normal: {
        cdf(x: number, mean: number, deviation: number): number;
        inv(share: number, mean: number, deviation: number): number;
      };
      readonly chisquare: { cdf(x: number, degreesOfFreedom: number): number };
      readonly studentt: { inv(share: number, degreesOfFreedom: number): number };
      quantiles(values: readonly number[], shares: readonly number[], alpha: number, beta: number): number[];
    };
  };
  export default library;
}
