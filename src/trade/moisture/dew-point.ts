import { defineFunction, fault, isFault, type Fault } from '../../engine/index.ts';
import { airStateFault, COLDEST } from './air-state-fault.ts';
import { lnSaturationPressure, lnSaturationPressureSlope } from './saturation-pressure.ts';

/**
 * Temperature, K, at which vapour of this pressure (Pa) saturates: `saturationPressure` turned round, by Newton's
 * method on its logarithm, which is nearly straight in 1/T.
 */
export function dewPointOfPressure(vapourPressure: number, hottest: number): number | Fault {
  const wanted = Math.log(vapourPressure);
  if (!(wanted >= lnSaturationPressure(COLDEST)))
    return fault('Air this dry has no dew point above −100 °C.', 'Check the relative humidity.');
  let low = COLDEST;
  let high = hottest;
  let T = Math.min(hottest, 280);
  for (let i = 0; i < 100; i++) {
    const error = lnSaturationPressure(T) - wanted;
    if (error > 0) high = Math.min(high, T);
    else low = Math.max(low, T);
    const next = T - error / lnSaturationPressureSlope(T);
    const step = (next >= low && next <= high ? next : (low + high) / 2) - T;
    T += step;
    if (Math.abs(step) < 1e-11 * T) break;
  }
  return T;
}

/** Dew point, below 0 °C the frost point, K, of air at a temperature (K) and relative humidity (fraction). */
export function dewPoint(temperature: number, relativeHumidity: number): number | Fault {
  const wrong = airStateFault({ temperature, relativeHumidity });
  if (wrong) return wrong;
  return dewPointOfPressure(
    relativeHumidity * Math.exp(lnSaturationPressure(temperature)),
    Math.max(temperature, COLDEST + 1),
  );
}

export const dewPointFunction = defineFunction({
  name: 'dew_point',
  summary: 'Temperature at which this air begins to condense; below 0 °C, to frost.',
  source:
    'ASHRAE Handbook Fundamentals 2017, chapter 1, equations 5 and 6 turned round. Checked against the psychrolib package.',
  limits:
    '−100 to 200 °C, relative humidity 0 to 100 %; refused where the air is drier than frost at −100 °C.',
  parameters: [
    { name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air' },
    { name: 'relative_humidity', type: { kind: 'quantity', unit: '' }, summary: 'Of the air' },
  ],
  result: { kind: 'quantity', unit: 'degC' },
  example: { formula: 'dew_point(20 degC, 50 %)', arguments: [293.15, 0.5], result: 282.4223922910899 },
  compute: dewPoint,
  partials: (temperature: number, relativeHumidity: number) => {
    const at = dewPoint(temperature, relativeHumidity);
    if (isFault(at)) return {};
    const slope = lnSaturationPressureSlope(at);
    return { result: [lnSaturationPressureSlope(temperature) / slope, 1 / (relativeHumidity * slope)] };
  },
});
