import { expect, test } from 'vitest';
import { powerLawFit } from '../../../src/face/figure/power-law-fit.ts';
import { asData, bound, cell, column, theme, waiting } from './bound.ts';

/** Invented readings on flow = 35.8 · pressure^0.636, one of them mistyped and left out, one not typed yet. */
const pressure = [60.2, 46.1, 32.0, 18.6, undefined];
const flow = [485, 409.5, 547, 229.7, undefined];
const curve = [10, 40, 80];
const curveFlow = curve.map((p) => 35.8 * p ** 0.636);

function fit(shown = true) {
  return powerLawFit.resolve(
    bound(
      {
        flow50: shown ? cell('Flow at 50 Pa', 431, 'cfm', 9) : waiting('Flow at 50 Pa', 'readings.flow'),
        exponent: cell('Exponent', 0.636, '', 0.006),
        r2: cell('r²', 0.9998, ''),
      },
      {
        pressure: column('Pa', pressure),
        flow: column('cfm', flow),
        residual: column('%', [0.3, 0.5, 61.7, -0.4, undefined]),
        reason: column('', ['', '', 'fan pressure looks mistyped', '', '']),
        curve_pressure: column('Pa', shown ? curve : []),
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
  );
}

test('its drawing', () => {
  expect(asData(powerLawFit.panels(fit(), theme))).toMatchSnapshot();
});

test('one line says exponent, r², and how many points are in and left out', () => {
  expect(powerLawFit.summary(fit()).line).toBe('n 0.636 ± 0.006, r² 0.9998, 3 points, 1 left out');
});

test('its data can be read as a table, with the reason for what is left out', () => {
  const { headers, rows } = powerLawFit.summary(fit());
  expect(headers).toEqual(['Pressure, Pa', 'Flow, cfm', 'Off the line, %', 'In the fit']);
  expect(rows).toEqual([
    ['60.2', '485', '0.3', 'yes'],
    ['46.1', '409.5', '0.5', 'yes'],
    ['32', '547', '62', 'left out: fan pressure looks mistyped'],
    ['18.6', '229.7', '−0.4', 'yes'],
  ]);
});

test('a point that is left out is drawn as a cross in its own colour and does not stretch the residuals', () => {
  const [drawn, residuals] = powerLawFit.panels(fit(), theme);
  const crosses = drawn?.chart.data.datasets.find((set) => set.label === 'left out');
  expect(crosses?.data).toEqual([{ x: 32, y: 547 }]);
  expect(crosses).toMatchObject({ pointStyle: 'crossRot', borderColor: theme.hold });
  expect(residuals?.chart.data.datasets[0]?.data).toHaveLength(3);
});

test('without a fit the points are drawn and the line above says what it waits for', () => {
  const data = fit(false);
  expect(powerLawFit.summary(data)).toMatchObject({
    line: 'No fit yet: waits for readings.flow',
    tone: 'hold',
  });
  const [drawn] = powerLawFit.panels(data, theme);
  expect(drawn?.chart.data.datasets.find((set) => set.label === 'points')?.data).toHaveLength(3);
  expect(drawn?.chart.data.datasets.find((set) => set.label === 'fit')?.data).toEqual([]);
});

test('a workbook whose figure is bound to nothing still shows an empty figure', () => {
  const data = powerLawFit.resolve(bound({}));
  expect(powerLawFit.summary(data).line).toBe('No fit yet');
  expect(powerLawFit.panels(data, theme)).toHaveLength(1);
});

test('as long as there is no line it says what to type', () => {
  const begun = (...values: number[]) =>
    powerLawFit.summary(
      powerLawFit.resolve(
        bound(
          {
            flow50: {
              label: 'Flow at 50 Pa',
              unit: 'cfm',
              shown: { kind: 'blank', reason: 'too little data' },
            },
          },
          { pressure: column('Pa', values), flow: column('cfm', values) },
        ),
      ),
    ).line;
  expect(begun()).toBe('No fit yet: no point so far; type readings at different pressures');
  expect(begun(50)).toBe('No fit yet: 1 point so far; type readings at different pressures');
  expect(begun(50, 40)).toBe('No fit yet: too little data');
});

test('readings without their flows ask for what the flows rest on, not for more readings', () => {
  const shown = { kind: 'blank', reason: 'not known yet' } as const;
  const data = powerLawFit.resolve(
    bound(
      { flow50: { label: 'Flow at 50 Pa', unit: 'cfm', shown } },
      { pressure: column('Pa', [50, 40, 30]), flow: column('cfm', []) },
    ),
  );
  expect(powerLawFit.summary(data).line).toBe('No fit yet: 3 readings so far, none with its flow');
  expect(powerLawFit.wanting?.(data)).toBe('flow50');
});
