import { bound, cell, column, waiting, words, type Sample } from './sample.ts';

/** Invented readings on flow = 35.8 · pressure^0.636, one of them mistyped and left out, one not typed yet. */
const pressure = [60.2, 46.1, 32.0, 18.6, undefined];
const flow = [485, 409.5, 547, 229.7, undefined];
const curve = Array.from({ length: 15 }, (_, at) => 10 + 5 * at);
const curveFlow = curve.map((p) => 35.8 * p ** 0.636);
const readings = {
  pressure: column('Pa', pressure),
  flow: column('cfm', flow),
  residual: column('%', [0.3, 0.5, 61.7, -0.4, undefined]),
  reason: column('', ['', '', 'fan pressure looks mistyped', '', '']),
};

export const powerLawFitSamples: readonly Sample[] = [
  {
    kind: 'power_law_fit',
    shows: 'a fit with its band, one reading left out',
    bound: bound(
      {
        flow50: cell('Flow at 50 Pa', 431, 'cfm', 9),
        exponent: cell('Exponent', 0.636, '', 0.006),
        r2: cell('r²', 0.9998, ''),
        conditions: words('Results are given for', 'the air of the test'),
      },
      {
        ...readings,
        curve_pressure: column('Pa', curve),
        curve_flow: column('cfm', curveFlow),
        curve_low: column(
          'cfm',
          curveFlow.map((q) => q * 0.98),
        ),
        curve_high: column(
          'cfm',
          curveFlow.map((q) => q * 1.02),
        ),
      },
    ),
  },
  {
    kind: 'power_law_fit',
    shows: 'readings before there is a fit',
    bound: bound({ flow50: waiting('Flow at 50 Pa', 'readings.flow') }, readings),
  },
  { kind: 'power_law_fit', shows: 'nothing bound', bound: bound({}) },
];
