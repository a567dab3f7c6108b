import { defineFunction, fault, isFault, type Fault } from '../../engine/index.ts';
import { airStateFault } from './air-state-fault.ts';
import { dewPoint } from './dew-point.ts';
import { humidityRatio } from './humidity-ratio.ts';

const FREEZING = 273.15;

/** kg/kg of air with this dry bulb and wet bulb (K), at a pressure (Pa). */
export function humidityRatioAtWetBulb(dryBulb: number, wetBulb: number, pressure: number): number | Fault {
  const wrong = airStateFault({ temperature: dryBulb, pressure });
  if (wrong) return wrong;
  if (wetBulb > dryBulb)
    return fault('The wet bulb is warmer than the dry bulb.', 'A wet thermometer cools: change them over.');
  const saturated = humidityRatio(wetBulb, 1, pressure);
  if (isFault(saturated)) return saturated;
  const ratio = ratioAt(dryBulb, wetBulb, saturated);
  if (ratio < 0)
    return fault(
      'No air is this dry: the wet bulb is too cold for the dry bulb.',
      'Read the wet bulb again.',
    );
  return ratio;
}

function ratioAt(dryBulb: number, wetBulb: number, saturated: number): number {
  const t = dryBulb - FREEZING;
  const wet = wetBulb - FREEZING;
  return wet >= 0
    ? ((2501 - 2.326 * wet) * saturated - 1.006 * (t - wet)) / (2501 + 1.86 * t - 4.186 * wet)
    : ((2830 - 0.24 * wet) * saturated - 1.006 * (t - wet)) / (2830 + 1.86 * t - 2.1 * wet);
}

/** Wet bulb, K, of air at a dry bulb (K), relative humidity (fraction) and pressure (Pa); found by halving. */
export function wetBulb(dryBulb: number, relativeHumidity: number, pressure: number): number | Fault {
  const wanted = humidityRatio(dryBulb, relativeHumidity, pressure);
  if (isFault(wanted)) return wanted;
  const dew = dewPoint(dryBulb, relativeHumidity);
  if (isFault(dew)) return dew;
  let low = dew;
  let high = dryBulb;
  while (high - low > 1e-9) {
    const middle = (low + high) / 2;
    const saturated = humidityRatio(middle, 1, pressure);
    if (isFault(saturated)) return saturated;
    if (ratioAt(dryBulb, middle, saturated) > wanted) high = middle;
    else low = middle;
  }
  return (low + high) / 2;
}

const SOURCE =
  'ASHRAE Handbook Fundamentals 2017, chapter 1, equations 33 and 35. Checked against the psychrolib package.';
const reading = { kind: 'quantity', unit: 'degC' } as const;
const pressure = {
  name: 'pressure',
  type: { kind: 'quantity', unit: 'Pa' },
  summary: 'Of the atmosphere',
} as const;

export const humidityRatioAtWetBulbFunction = defineFunction({
  name: 'humidity_ratio_at_wet_bulb',
  summary: 'Mass of vapour for each mass of dry air, from a dry and a wet thermometer.',
  source: SOURCE,
  limits: 'Over water at a wet bulb of 0 °C and above, over ice below.',
  parameters: [
    { name: 'dry_bulb', type: reading, summary: 'The dry thermometer' },
    { name: 'wet_bulb', type: reading, summary: 'The wet thermometer' },
    pressure,
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'humidity_ratio_at_wet_bulb(40 degC, 20 degC, 101325 Pa)',
    arguments: [313.15, 293.15, 101325],
    result: 0.006400785965030817,
  },
  compute: humidityRatioAtWetBulb,
});

export const wetBulbFunction = defineFunction({
  name: 'wet_bulb',
  summary: 'What a wet thermometer in moving air would show.',
  source: SOURCE,
  limits: 'Within 1e-9 K of the equation. The equation steps at 0 °C, where water turns to ice.',
  parameters: [
    { name: 'dry_bulb', type: reading, summary: 'The dry thermometer' },
    { name: 'relative_humidity', type: { kind: 'quantity', unit: '' }, summary: 'Of the air' },
    pressure,
  ],
  result: reading,
  example: {
    formula: 'wet_bulb(25 degC, 50 %, 101325 Pa)',
    arguments: [298.15, 0.5, 101325],
    result: 291.0393422513474,
  },
  compute: wetBulb,
});
