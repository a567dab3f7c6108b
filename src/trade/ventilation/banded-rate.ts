import { defineFunction, fault, type Fault } from '../../engine/index.ts';

/** A floor area converted from another unit may differ from a band's edge in its last digit. */
const ROUNDING = 1e-9;
/** Edges of one band, typed in different rows or units. */
const SAME = 1e-3;

/**
 * The flow (m³/s) that a printed table gives for a floor area (m²) and a number of bedrooms. Every row stands for
 * one cell: areas above `areaAbove`, bedrooms from `bedroomsFrom`, each up to the next band. NaN where the table has
 * no cell; a row with the rate 0 says where it ends.
 */
export function bandedRate(
  areaAbove: readonly number[],
  bedroomsFrom: readonly number[],
  rates: readonly number[],
  floorArea: number,
  bedrooms: number,
): number | Fault {
  if (rates.length === 0) return NaN;
  const row = rowOf(areaAbove, bedroomsFrom, floorArea, bedrooms);
  if (typeof row !== 'number') return row;
  const rate = rates[row] ?? NaN;
  return rate > 0 ? rate : NaN;
}

function rowOf(
  areaAbove: readonly number[],
  bedroomsFrom: readonly number[],
  floorArea: number,
  bedrooms: number,
): number | Fault {
  if (!(floorArea > 0)) return fault('The floor area must be above zero.', 'Give the floor area.');
  const fits = (edge: number) => edge < floorArea * (1 - ROUNDING);
  const same = (a: number, b: number) => Math.abs(a - b) <= SAME * Math.max(1, Math.abs(a));
  const area = Math.max(...areaAbove.filter(fits));
  const from = Math.max(...bedroomsFrom.filter((edge) => edge <= bedrooms));
  const rows = areaAbove.flatMap((edge, i) =>
    same(edge, area) && same(bedroomsFrom[i] ?? NaN, from) ? [i] : [],
  );
  if (rows.length > 1) return fault('The table has two rows for one cell.', 'Delete one of them.');
  return rows[0] ?? -1;
}

const plain = { kind: 'quantity', unit: '' } as const;
const area = { kind: 'quantity', unit: 'm2' } as const;
const flow = { kind: 'quantity', unit: 'm3/s' } as const;

export const bandedRateFunction = defineFunction({
  name: 'banded_rate',
  summary: 'Reads a printed table of ventilation rates by bands of floor area and bedrooms.',
  source: 'The way such tables are printed: ASHRAE 62.2-2013 table 4.1a, IRC table M1505.4.3(1).',
  limits:
    'An area equal to an edge belongs to the lower band (1,500 ft² stands in no printed row of the IRC table). Blank where the table does not reach; a row with the rate 0 says where it ends.',
  parameters: [
    { name: 'area_above', type: area, column: true, summary: 'Lower edge of the band of floor area' },
    { name: 'bedrooms_from', type: plain, column: true, summary: 'Fewest bedrooms of the band' },
    { name: 'rate', type: flow, column: true, summary: 'The printed flow' },
    { name: 'floor_area', type: area, summary: 'Of the house' },
    { name: 'bedrooms', type: plain, summary: 'Of the house' },
  ],
  result: flow,
  example: {
    arguments: [[0, 0, 139, 139], [0, 2, 0, 2], [0.014, 0.021, 0.021, 0.028], 223, 3],
    result: 0.028,
  },
  compute: bandedRate,
  partials: (
    areaAbove: readonly number[],
    bedroomsFrom: readonly number[],
    rates: readonly number[],
    floorArea: number,
    bedrooms: number,
  ) => {
    const row = rowOf(areaAbove, bedroomsFrom, floorArea, bedrooms);
    const none = rates.map(() => 0);
    return { result: [none, none, rates.map((_, i) => (i === row ? 1 : 0)), 0, 0] };
  },
});
