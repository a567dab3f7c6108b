/**
 * The same physics by another road, for tests: vapour pressure as the solution of an obstacle problem on a chain of
 * resistances, by projected Gauss–Seidel. Knows nothing of strings and corners.
 */
export function obstacleFlows(
  positions: readonly number[],
  saturation: readonly number[],
  inside: number,
  outside: number,
  length: number,
): { readonly pressures: number[]; readonly gathering: number[] } {
  const s = [0, ...positions, length];
  const n = positions.length;
  const p = [inside, ...saturation, outside];
  for (let sweep = 0; sweep < 200_000; sweep++) {
    let moved = 0;
    for (let i = 1; i <= n; i++) {
      const left = 1 / (s[i]! - s[i - 1]!);
      const right = 1 / (s[i + 1]! - s[i]!);
      const free = (left * p[i - 1]! + right * p[i + 1]!) / (left + right);
      const next = Math.min(free, saturation[i - 1]!);
      moved = Math.max(moved, Math.abs(next - p[i]!));
      p[i] = next;
    }
    if (moved < 1e-13 * inside) break;
  }
  const gathering = positions.map((_, k) => {
    const i = k + 1;
    return (p[i - 1]! - p[i]!) / (s[i]! - s[i - 1]!) - (p[i]! - p[i + 1]!) / (s[i + 1]! - s[i]!);
  });
  return { pressures: p.slice(1, n + 1), gathering };
}
