import { defineFunction, fault, isFault, numeral, type Fault, type Parameter } from '../../engine/index.ts';
import { condensationYear, type CondensationYear } from './condensation-year.ts';
import { interstitialSaturation } from './interstitial-saturation.ts';
import {
  EXAMPLE_LAYERS,
  LAYER_PARAMETERS,
  layersOf,
  SOLVER_LIMITS,
  SOLVER_SOURCE,
} from './vapour-profile.ts';

const reading = { kind: 'quantity', unit: 'degC' } as const;
const number = { kind: 'quantity', unit: '' } as const;
const water = { kind: 'quantity', unit: 'kg/m2' } as const;

const MONTH_PARAMETERS = [
  { name: 'days', type: { kind: 'quantity', unit: 's' }, summary: 'Length of each month' },
  { name: 'indoor_temperature', type: reading, summary: 'Mean of each month' },
  { name: 'indoor_humidity', type: number, summary: 'Mean relative humidity of each month' },
  { name: 'outdoor_temperature', type: reading, summary: 'Mean of each month' },
  { name: 'outdoor_humidity', type: number, summary: 'Mean relative humidity of each month' },
].map((parameter): Parameter => ({ ...parameter, column: true, table: 'months' }) as Parameter);

type Numbers = readonly number[];
type Given = readonly [...layersAndMonths: Numbers[]];

let last: { readonly given: Given; readonly year: CondensationYear | Fault } | undefined;

/** Twelve rows ask for the same year one after another; it is worked out once. */
function yearOf(given: Given): CondensationYear | Fault {
  if (
    last?.given.every(
      (list, i) => list.length === given[i]?.length && list.every((x, k) => Object.is(x, given[i]?.[k])),
    )
  )
    return last.year;
  const [r = [], sd = [], variable = [], humidity = [], curve = [], days = [], ...air] = given;
  const [indoor = [], indoorHumidity = [], outdoor = [], outdoorHumidity = []] = air;
  const months = days.map((seconds, i) => {
    const [inside = NaN, outside = NaN] = [indoor[i], outdoor[i]];
    return {
      seconds,
      airs: {
        indoor: inside,
        outdoor: outside,
        indoorPressure: (indoorHumidity[i] ?? NaN) * interstitialSaturation(inside),
        outdoorPressure: (outdoorHumidity[i] ?? NaN) * interstitialSaturation(outside),
      },
    };
  });
  const year =
    days.length === 0
      ? fault('There are no months.', 'List the months with their days, temperatures and humidities.')
      : condensationYear(layersOf(r, sd, variable, humidity, curve), months);
  last = { given: given.map((list) => [...list]), year };
  return year;
}

export const yearOfWaterFunction = defineFunction({
  name: 'year_of_water',
  summary: 'Water that gathers in an assembly month by month, and dries again, beginning dry.',
  source: SOLVER_SOURCE,
  limits: `${SOLVER_LIMITS} A month begins with the water the month before left; a plane that falls dry within a month is let go at that moment.`,
  parameters: [
    ...LAYER_PARAMETERS,
    ...MONTH_PARAMETERS,
    { name: 'month', type: number, summary: 'Which month, counted from 1 in the order of the rows' },
  ],
  result: {
    kind: 'record',
    fields: {
      gained: { type: water, summary: 'In this month; below zero where it dries' },
      held: { type: water, summary: 'At the end of this month' },
      most: { type: water, summary: 'Most at the end of any month' },
      left: { type: water, summary: 'Left after the twelve months: more every year where above zero' },
      begins: { type: number, summary: 'Month in which condensation begins; 0 where none does' },
      wettest_layer: {
        type: number,
        summary: 'Layer in or behind which the most water lies; 0 where none does',
      },
      membrane_air_layer: {
        type: { kind: 'quantity', unit: 'm' },
        summary: 'Equivalent air layer of the variable membrane at the start of this month',
      },
    },
  },
  // The constructed wall of vapour_profile through a winter and a summer of invented weather.
  example: {
    arguments: [
      ...EXAMPLE_LAYERS,
      [7776000, 7776000],
      [293.15, 293.15],
      [0.5, 0.5],
      [268.15, 288.15],
      [0.8, 0.7],
      1,
    ],
    result: {
      gained: 0.747619695708115,
      held: 0.747619695708115,
      most: 0.747619695708115,
      left: 0,
      begins: 1,
      wettest_layer: 4,
      membrane_air_layer: 0.8569972229164006,
    },
  },
  compute: (...values: never[]) => {
    const given = values as unknown as readonly [...Given, number];
    const month = given[given.length - 1] as number;
    const year = yearOf(given.slice(0, -1) as unknown as Given);
    if (isFault(year)) return year;
    const found = year.months[month - 1];
    if (!found)
      return fault(
        `There is no month ${numeral(month)}.`,
        `Months are counted from 1 to ${String(year.months.length)}.`,
      );
    return {
      gained: found.gained,
      held: found.held,
      most: year.most,
      left: year.left,
      begins: year.begins + 1,
      wettest_layer: year.wettestLayer + 1,
      membrane_air_layer: found.start.membrane,
    };
  },
});
