/**
 * Sizes of units as quotients of whole numbers. 0.0254 has no exact binary form, 127/5000 has: so 12 in is 1 ft to the
 * last digit, and cfm/ft2 is 127/25000 m/s however it is composed.
 */

export type Ratio = readonly [above: number, below: number];

export const ONE: Ratio = [1, 1];

function greatestCommonDivisor(a: number, b: number): number {
  while (b !== 0) [a, b] = [b, a % b];
  return a;
}

function reduced(above: number, below: number): Ratio | undefined {
  if (!Number.isSafeInteger(above) || !Number.isSafeInteger(below)) return undefined;
  const divisor = greatestCommonDivisor(above, below);
  return [above / divisor, below / divisor];
}

/** Ninths for degrees Fahrenheit; all other exact sizes of units are decimals. */
const DENOMINATORS = [1, 9];
const MAX_DECIMALS = 13;

/** The quotient that a size was meant as; undefined for those with no short one, as π/180. */
export function ratioOf(size: number): Ratio | undefined {
  for (const denominator of DENOMINATORS) {
    for (let decimals = 0; decimals <= MAX_DECIMALS; decimals++) {
      const below = denominator * 10 ** decimals;
      const above = Math.round(size * below);
      if (above > 0 && above / below === size) return reduced(above, below);
    }
  }
  return undefined;
}

/** a · b^n; undefined where the whole numbers would outgrow what a number holds exactly. */
export function timesPower(a: Ratio | undefined, b: Ratio | undefined, n: number): Ratio | undefined {
  if (a === undefined || b === undefined || !Number.isInteger(n) || Math.abs(n) > 12) return undefined;
  const [above, below] = n < 0 ? [b[1], b[0]] : b;
  let result: Ratio | undefined = a;
  for (let i = 0; i < Math.abs(n) && result !== undefined; i++) {
    // Divided crosswise first, so that the products stay small.
    const down = greatestCommonDivisor(result[0], below);
    const up = greatestCommonDivisor(above, result[1]);
    result = reduced((result[0] / down) * (above / up), (result[1] / up) * (below / down));
  }
  return result;
}
