import { expect } from 'vitest';

/** The two differ by at most this fraction of the expected value (or by this amount, where that is zero). */
export function expectRelative(actual: unknown, expected: number, tolerance: number, what = 'value'): void {
  const difference = Math.abs((actual as number) - expected);
  const allowed = expected === 0 ? tolerance : tolerance * Math.abs(expected);
  expect(difference <= allowed, `${what}: ${String(actual)} is not ${expected} within ${tolerance}`).toBe(
    true,
  );
}

/** The value, where a fault would be a failure of the test. */
export function sound<T>(result: T): Exclude<T, { readonly fault: string }> {
  expect(result).not.toHaveProperty('fault');
  return result as Exclude<T, { readonly fault: string }>;
}
