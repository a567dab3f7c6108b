import { defineFunction, fault, numeral, quantityInWords, written, type Fault } from '../../engine/index.ts';

/** Moisture content (a share, 0.08 = 8 %) that wood comes to in air of `temperature` (K) and `humidity` (0 to 1). */
export function equilibriumMoisture(temperature: number, humidity: number): number | Fault {
  if (!(humidity >= 0 && humidity < 1))
    return fault(
      `A relative humidity of ${numeral(humidity * 100)} % is outside 0 to 100 %.`,
      'Type the humidity of the room air, for instance 35 %.',
    );
  const t = (temperature - 273.15) * 1.8 + 32;
  if (!(t >= 30 && t <= 210))
    return fault(
      `The relation holds from ${written('30 °F')} to ${written('210 °F')}, not at ${quantityInWords(temperature, 'degF')}.`,
      'Type the temperature of the room.',
    );
  const w = 330 + 0.452 * t + 0.00415 * t * t;
  const kh = (0.791 + 0.000463 * t - 0.000000844 * t * t) * humidity;
  const k1 = 6.34 + 0.000775 * t - 0.0000935 * t * t;
  const k2 = 1.09 + 0.0284 * t - 0.0000904 * t * t;
  const bound = (k1 * kh + 2 * k1 * k2 * kh * kh) / (1 + k1 * kh + k1 * k2 * kh * kh);
  return (18 / w) * (kh / (1 - kh) + bound);
}

export const equilibriumMoistureFunction = defineFunction({
  name: 'equilibrium_moisture',
  summary: 'Moisture content that wood comes to when it is kept in this air.',
  source:
    'Two-hydrate sorption curve with the coefficients of the wood-engineering literature, from memory, not read; agrees with a trade chart in bands (20 to 25 % RH 5 %, 40 to 46 % RH 8 %).',
  limits:
    'Any wood, steady air, 30 to 210 °F, under 100 % RH. Finished or large pieces take weeks to get there.',
  parameters: [
    { name: 'temperature', type: { kind: 'quantity', unit: 'degC' }, summary: 'Of the air' },
    { name: 'humidity', type: { kind: 'quantity', unit: '' }, summary: 'Relative humidity of the air' },
  ],
  result: { kind: 'quantity', unit: '' },
  example: {
    formula: 'equilibrium_moisture(70 degF, 35 %)',
    arguments: [294.2611111111111, 0.35],
    result: 0.0694490500782926,
  },
  compute: equilibriumMoisture,
});
