import { defineFunction, fault, written, type Fault } from '../../engine/index.ts';

export interface MembraneCurve {
  /** Relative humidity, fractions, rising. */
  readonly humidity: readonly number[];
  /** Equivalent air layer, m, never rising. */
  readonly thickness: readonly number[];
}

/** Why these points are no curve of a membrane that opens as it becomes humid, if so. */
export function curveFault({ humidity, thickness }: MembraneCurve): Fault | undefined {
  if (humidity.length !== thickness.length)
    return fault('The membrane curve lacks a humidity or a thickness.', 'Give every row both.');
  for (const [i, h] of humidity.entries()) {
    const row = `Point ${String(i + 1)} of the membrane curve`;
    const sd = thickness[i] ?? NaN;
    if (!(h >= 0 && h <= 1)) return fault(`${row}: humidity must lie between 0 and 100 %.`, 'Write 60 %.');
    if (!(sd > 0 && sd < 1e6))
      return fault(
        `${row}: the equivalent air layer must be above zero.`,
        `For instance ${written('0.3 m')}.`,
      );
    if (i === 0) continue;
    if (h <= (humidity[i - 1] ?? NaN))
      return fault(
        `${row} is out of order: its humidity is not above that of the point before.`,
        'List the points from dry to humid, each humidity once.',
      );
    if (sd > (thickness[i - 1] ?? NaN))
      return fault(
        `${row} is out of order: the membrane would become tighter as it becomes humid.`,
        'List the points from dry to humid; the equivalent air layer falls or stays.',
      );
  }
  return undefined;
}

/** Equivalent air layer, m, at a relative humidity: log-linear between the points, level beyond the ends. */
export function curveThickness({ humidity, thickness }: MembraneCurve, at: number): number {
  const next = humidity.findIndex((h) => h > at);
  if (next === 0) return thickness[0] ?? NaN;
  if (next < 0) return thickness[thickness.length - 1] ?? NaN;
  const [h0 = NaN, h1 = NaN] = [humidity[next - 1], humidity[next]];
  const [s0 = NaN, s1 = NaN] = [thickness[next - 1], thickness[next]];
  return s0 * (s1 / s0) ** ((at - h0) / (h1 - h0));
}

export const membraneThicknessFunction = defineFunction({
  name: 'membrane_thickness',
  summary:
    'Equivalent air layer of a membrane whose permeance depends on humidity, from the points of its curve.',
  source: 'Common practice, no source: log-linear between the points that a maker gives, level beyond them.',
  limits: 'The points rise in humidity and never rise in equivalent air layer; anything else is refused.',
  parameters: [
    {
      name: 'curve_humidity',
      type: { kind: 'quantity', unit: '' },
      column: true,
      summary: 'Mean relative humidity at the membrane, of each point',
    },
    {
      name: 'curve_thickness',
      type: { kind: 'quantity', unit: 'm' },
      column: true,
      summary: 'Equivalent air layer of each point',
    },
    { name: 'humidity', type: { kind: 'quantity', unit: '' }, summary: 'Mean of both faces' },
  ],
  result: { kind: 'quantity', unit: 'm' },
  example: { arguments: [[0.3, 0.9], [10, 0.25], 0.6], result: 1.5811388300841902 },
  compute: (humidity: readonly number[], thickness: readonly number[], at: number) => {
    const wrong = curveFault({ humidity, thickness });
    if (wrong) return wrong;
    return humidity.length === 0 || !Number.isFinite(at) ? NaN : curveThickness({ humidity, thickness }, at);
  },
});
