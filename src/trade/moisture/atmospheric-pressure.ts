import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** Usual pressure of the atmosphere, Pa, at a height above sea level in metres. */
export function atmosphericPressure(elevation: number): number | Fault {
  if (!(elevation >= -500 && elevation <= 11_000))
    return fault(
      'The elevation must lie between −500 m and 11,000 m (36,089 ft).',
      'Give the height of the site above sea level.',
    );
  return 101325 * (1 - 2.25577e-5 * elevation) ** 5.2559;
}

export const atmosphericPressureFunction = defineFunction({
  name: 'atmospheric_pressure',
  summary: 'Usual pressure of the atmosphere at a height above sea level.',
  source:
    'Standard atmosphere, ASHRAE Handbook Fundamentals 2017, chapter 1, equation 3. Checked against table 1 of that chapter.',
  limits: '−500 to 11,000 m. The weather moves it by a few per cent.',
  parameters: [{ name: 'elevation', type: { kind: 'quantity', unit: 'm' }, summary: 'Above sea level' }],
  result: { kind: 'quantity', unit: 'Pa' },
  example: { formula: 'atmospheric_pressure(500 m)', arguments: [500], result: 95460.81237253922 },
  compute: atmosphericPressure,
  partials: (elevation: number) => ({
    result: [-101325 * 5.2559 * 2.25577e-5 * (1 - 2.25577e-5 * elevation) ** 4.2559],
  }),
});
