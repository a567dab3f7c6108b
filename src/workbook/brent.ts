/**
 * Root of a function between two bounds: Brent's method (R. P. Brent, Algorithms for Minimization without
 * Derivatives, 1973, chapter 4, "zeroin"), bisection with secant and inverse quadratic steps where they help.
 */
export interface Root {
  readonly x: number;
  readonly residual: number;
  readonly evaluations: number;
}

/**
 * `f(a)` and `f(b)` must have opposite signs; undefined where they have not, or where `f` gives no number. Ends when
 * the bracket is narrower than `tolerance` or `f` is zero.
 */
export function brent(
  f: (x: number) => number,
  a: number,
  b: number,
  fa: number,
  fb: number,
  tolerance: number,
  limit = 200,
): Root | undefined {
  if (!Number.isFinite(fa) || !Number.isFinite(fb) || fa * fb > 0) return undefined;
  let [low, high, flow, fhigh] = [a, b, fa, fb];
  let [other, fother] = [low, flow];
  let step = high - low;
  let before = step;
  for (let n = 0; n < limit; n++) {
    if (Math.abs(fother) < Math.abs(fhigh)) {
      [low, high, other] = [high, other, high];
      [flow, fhigh, fother] = [fhigh, fother, fhigh];
    }
    const accuracy = 2 * Number.EPSILON * Math.abs(high) + tolerance / 2;
    const half = (other - high) / 2;
    if (Math.abs(half) <= accuracy || fhigh === 0) return { x: high, residual: fhigh, evaluations: n };
    if (Math.abs(before) >= accuracy && Math.abs(flow) > Math.abs(fhigh)) {
      const s = fhigh / flow;
      let p: number;
      let q: number;
      if (low === other) {
        p = 2 * half * s;
        q = 1 - s;
      } else {
        const r = fhigh / fother;
        const t = flow / fother;
        p = s * (2 * half * t * (t - r) - (high - low) * (r - 1));
        q = (t - 1) * (r - 1) * (s - 1);
      }
      if (p > 0) q = -q;
      else p = -p;
      if (2 * p < Math.min(3 * half * q - Math.abs(accuracy * q), Math.abs(before * q))) {
        before = step;
        step = p / q;
      } else {
        step = half;
        before = half;
      }
    } else {
      step = half;
      before = half;
    }
    low = high;
    flow = fhigh;
    high += Math.abs(step) > accuracy ? step : half > 0 ? accuracy : -accuracy;
    fhigh = f(high);
    if (!Number.isFinite(fhigh)) return undefined;
    if (fhigh > 0 === fother > 0) {
      [other, fother] = [low, flow];
      step = high - low;
      before = step;
    }
  }
  return undefined;
}
