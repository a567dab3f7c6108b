/** Q = C (p / 1 Pa)^n. Flows in m³/s, pressures in Pa. NaN stands for what two points cannot tell. */
export interface PowerLawFit {
  /** Flow at 1 Pa. */
  readonly flowCoefficient: number;
  readonly exponent: number;
  readonly rSquared: number;
  readonly points: number;
  readonly excluded: number;
  /** Of ln flow, which is about the relative scatter. */
  readonly residualSd: number;
  readonly dof: number;
  readonly seLnCoefficient: number;
  readonly seExponent: number;
  /** Of ln C and n. */
  readonly covariance: number;
  readonly coefficientLow: number;
  readonly coefficientHigh: number;
  readonly exponentLow: number;
  readonly exponentHigh: number;
  /** Geometric mean of the pressures: flow there and exponent do not correlate. */
  readonly pivotPressure: number;
  readonly pivotFlow: number;
  readonly seLnPivotFlow: number;
  /** Of ln pressure about its mean. */
  readonly sumSquares: number;
  readonly t: number;
  readonly flow50: number;
  readonly flow50Low: number;
  readonly flow50High: number;
}
