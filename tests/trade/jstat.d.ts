/** jstat ships no types; only what the tests compare with. */
declare module 'jstat' {
  interface LeastSquares {
    readonly coef: readonly number[];
    readonly R2: number;
    readonly t: { readonly se: readonly number[] };
  }
  const jStat: {
    readonly studentt: { inv(probability: number, dof: number): number };
    readonly models: { ols(y: readonly number[], x: readonly (readonly number[])[]): LeastSquares };
  };
  export default jStat;
}
