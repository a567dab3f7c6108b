/**
 * How a power-law fit answers to its readings, and to the scatter about it. With x = ln pressure, y = ln flow, slope
 * n = Σ w y, w = (x − x̄) / Sxx, and ln C = ȳ − n x̄ (ordinary least squares), derivatives follow by the chain rule.
 */
import { isFault, type Partials, type Scatter } from '../../engine/index.ts';
import { isUsablePoint } from './point-status.ts';
import type { PowerLawFit } from './power-law-fit-result.ts';

/** Derivatives of the line's own results; limits and standard errors are left to differences. */
export function powerLawFitPartials(
  fit: PowerLawFit,
  pressures: readonly number[],
  flows: readonly number[],
): Partials {
  const n = pressures.length;
  const used = pressures.map((p, i) => isUsablePoint(p, flows[i] ?? NaN));
  const x = pressures.map((p, i) => (used[i] ? Math.log(p) : 0));
  const y = flows.map((q, i) => (used[i] ? Math.log(q) : 0));
  const count = used.filter(Boolean).length;
  const meanX = Math.log(fit.pivotPressure);
  const meanY = Math.log(fit.pivotFlow);
  let sxx = 0;
  for (let i = 0; i < n; i++) if (used[i]) sxx += ((x[i] ?? 0) - meanX) ** 2;

  // By parameter (pressure, flow), then by reading; 0 for one that is left out.
  const exponent: number[][] = [[], []];
  const level: number[][] = [[], []];
  for (let i = 0; i < n; i++) {
    const p = pressures[i] ?? NaN;
    const q = flows[i] ?? NaN;
    if (!used[i]) {
      for (const list of [...exponent, ...level]) list.push(0);
      continue;
    }
    const dx = (x[i] ?? 0) - meanX;
    const residual = (y[i] ?? 0) - meanY - fit.exponent * dx;
    exponent[0]?.push((residual - fit.exponent * dx) / sxx / p);
    exponent[1]?.push(dx / sxx / q);
    level[0]?.push(-fit.exponent / count / p);
    level[1]?.push(1 / count / q);
  }
  /** Flow on the line at ln pressure = meanX + distance, as the level at the pivot and the slope move. */
  const flowAt = (value: number, distance: number): number[][] =>
    [0, 1].map((k) => (exponent[k] ?? []).map((e, i) => value * ((level[k]?.[i] ?? 0) + distance * e)));
  const pivotPressure = pressures.map((p, i) => (used[i] ? fit.pivotPressure / count / p : 0));
  const pivotFlow = flows.map((q, i) => (used[i] ? fit.pivotFlow / count / q : 0));
  const none = pressures.map(() => 0);
  return {
    exponent,
    flow_coefficient: flowAt(fit.flowCoefficient, -meanX),
    flow50: flowAt(fit.flow50, Math.log(50) - meanX),
    pivot_pressure: [pivotPressure, none],
    pivot_flow: [none, pivotFlow],
    points: [none, none],
    excluded: [none, none],
    dof: [none, none],
    t: [none, none],
  };
}

/** The scatter as two independent deviates: the level of the line at its pivot, and its slope. */
export function powerLawFitScatter(fit: PowerLawFit): Scatter | undefined {
  if (isFault(fit) || !Number.isFinite(fit.seExponent)) return undefined;
  const meanX = Math.log(fit.pivotPressure);
  const at50 = Math.log(50) - meanX;
  return {
    degreesOfFreedom: fit.dof,
    components: [
      {
        flow_coefficient: fit.flowCoefficient * fit.seLnPivotFlow,
        flow50: fit.flow50 * fit.seLnPivotFlow,
        pivot_flow: fit.pivotFlow * fit.seLnPivotFlow,
      },
      {
        exponent: fit.seExponent,
        flow_coefficient: -fit.flowCoefficient * meanX * fit.seExponent,
        flow50: fit.flow50 * at50 * fit.seExponent,
      },
    ],
  };
}
