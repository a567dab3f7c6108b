import { describe, expect, it } from 'vitest';
import {
  airDensity,
  directionSign,
  envelopeFlowFactor,
  fanFlow,
  fanReadingStatus,
  fitLogarithms,
  pointStatus,
  powerLawFit,
} from '../../src/trade/index.ts';
import { expectRelative, sound } from '../trade/closeness.ts';
import { plain } from '../trade/plain.ts';
import house from './juniper-hollow-fan.json' with { type: 'json' };

/** 1 cfm in m³/s: a cubic foot a minute, exact. */
const cfm = 0.3048 ** 3 / 60;
const kelvin = (fahrenheit: number) => (fahrenheit + 459.67) / 1.8;
const tolerance = 1e-8;

type FanTest = (typeof house.fan_tests)[number];
type Reading = (typeof house.fan_readings)[number];

function analyse(test: FanTest, readings: readonly Reading[]) {
  const baseline = (test.baseline_before + test.baseline_after) / 2;
  const sign = sound(directionSign(test.direction));
  const induced = readings.map((reading) => sign * (reading.house_pressure - baseline));
  const ranges = readings.map((reading) => {
    const range = house.fan_ranges.find(({ fan_range }) => fan_range === reading.fan_range);
    if (!range) throw new Error(`no range ${reading.fan_range}`);
    return range;
  });
  const flow = readings.map((reading, i) => {
    const { coefficient, exponent } = ranges[i] ?? { coefficient: NaN, exponent: NaN };
    return sound(fanFlow(reading.fan_pressure, coefficient * cfm, exponent));
  });
  const warnings = readings.flatMap((reading, i) => {
    const range = ranges[i];
    const status = sound(
      fanReadingStatus(reading.fan_pressure, range?.fan_pressure_min ?? NaN, range?.fan_pressure_max ?? NaN),
    );
    return status === '' ? [] : [{ reading: reading.reading, status }];
  });
  const elevation = house.site_elevation_ft * 0.3048;
  const densityInside = sound(airDensity(kelvin(test.indoor_temperature_test), elevation));
  const densityOutside = sound(airDensity(kelvin(test.outdoor_temperature_test), elevation));
  return {
    baseline,
    induced,
    flow,
    warnings,
    densityInside,
    densityOutside,
    factor: sound(envelopeFlowFactor(test.direction, densityInside, densityOutside)),
    fit: sound(powerLawFit(induced, flow)),
    line: sound(fitLogarithms(induced, flow)),
  };
}

const readingsOf = (test: FanTest) =>
  house.fan_readings.filter((reading) => reading.test === test.test && reading.direction === test.direction);

interface Expected {
  [field: string]: number | number[];
}

function check(result: ReturnType<typeof analyse>, expected: Expected) {
  const { fit } = result;
  const computed: Record<string, number> = {
    N: fit.points,
    ln_C: Math.log(fit.flowCoefficient / cfm),
    C: fit.flowCoefficient / cfm,
    n: fit.exponent,
    r2: fit.rSquared,
    residual_sd: fit.residualSd,
    se_n: fit.seExponent,
    se_ln_C: fit.seLnCoefficient,
    t: fit.t,
    pivot_dp: fit.pivotPressure,
    pivot_q: fit.pivotFlow / cfm,
    n_low: fit.exponentLow,
    n_high: fit.exponentHigh,
    C_low: fit.coefficientLow / cfm,
    C_high: fit.coefficientHigh / cfm,
    se_ln_q50: Math.log(fit.flow50High / fit.flow50Low) / (2 * fit.t),
    q50_fan_cfm: fit.flow50 / cfm,
    q50_fan_low: fit.flow50Low / cfm,
    q50_fan_high: fit.flow50High / cfm,
    density_in: result.densityInside,
    density_out: result.densityOutside,
    flow_factor: result.factor,
    q50_envelope_cfm: (result.factor * fit.flow50) / cfm,
    q50_envelope_low: (result.factor * fit.flow50Low) / cfm,
    q50_envelope_high: (result.factor * fit.flow50High) / cfm,
  };
  for (const [field, value] of Object.entries(computed)) {
    expectRelative(value, expected[field] as number, tolerance, field);
  }
  expect(fit.excluded).toBe(0);
}

describe('the fan tests of the Juniper Hollow house (invented; expected values computed with NumPy and SciPy)', () => {
  it.each(house.fan_tests)('$test, $direction', (test) => {
    const expected = house.expected[
      `${test.test}__${test.direction}` as keyof typeof house.expected
    ] as Expected;
    const result = analyse(test, readingsOf(test));
    check(result, expected);
    expectRelative(result.baseline, expected.mean_baseline_pa as number, 1e-12);
    const series = [
      [result.induced, expected.induced_pressure_pa, 1e-12],
      [result.flow.map((flow) => flow / cfm), expected.fan_flow_cfm, 1e-9],
      [result.line.studentizedResiduals, expected.studentized_residual, 1e-7],
    ] as const;
    for (const [computed, listed, within] of series) {
      const values = listed as number[];
      expect(computed).toHaveLength(values.length);
      values.forEach((value, i) => {
        expectRelative(computed[i], value, within, `reading ${i + 1}`);
      });
    }
    expect(result.warnings.map(({ reading }) => reading)).toEqual(expected.readings_outside_fan_limits);
    result.induced.forEach((p, i) => {
      expect(pointStatus(p, result.flow[i] ?? NaN)).toBe('');
    });
  });

  it('warns of the one reading under its range, and says so in full', () => {
    const test = house.fan_tests.find(({ test }) => test === 'before_board_first')!;
    expect(analyse(test, readingsOf(test)).warnings.map(plain)).toEqual([
      { reading: 9, status: '22.4 Pa is under this range’s 25 Pa' },
    ]);
  });

  it('meets the expected values of the practice run without its slip, and with the true reading', () => {
    const test = house.fan_tests.find(({ test }) => test === 'practice')!;
    const slip = house.expected.practice_slip;
    const readings = readingsOf(test);
    expect(readings[slip.row - 1]?.fan_pressure).toBe(slip.typed_fan_pressure_pa);
    const without = readings.filter(({ reading }) => reading !== slip.row);
    check(analyse(test, without), house.expected.practice__without_the_slip_row);
    const right = readings.map((reading) =>
      reading.reading === slip.row ? { ...reading, fan_pressure: slip.true_fan_pressure_pa } : reading,
    );
    check(analyse(test, right), house.expected.practice__with_the_true_reading);
    const studentized = analyse(test, readings).line.studentizedResiduals;
    expect(studentized.findIndex((value) => Math.abs(value) > 5)).toBe(slip.row - 1);
  });

  it('has the mean of the two directions after sealing', () => {
    const pair = house.fan_tests.filter(({ test }) => test === 'before_board_sealed');
    const results = pair.map((test) => analyse(test, readingsOf(test)));
    const mean = (values: number[]) => values.reduce((a, b) => a + b) / values.length;
    const expected = house.expected.before_board_sealed__mean;
    expect(results).toHaveLength(2);
    expectRelative(mean(results.map(({ fit }) => fit.flow50 / cfm)), expected.q50_fan_cfm, tolerance);
    expectRelative(
      mean(results.map(({ fit, factor }) => (factor * fit.flow50) / cfm)),
      expected.q50_envelope_cfm,
      tolerance,
    );
  });
});
